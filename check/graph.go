package check

// strong returns for each node of a graph the number of the set of nodes that reach each other (Tarjan 1972, without
// recursion).
func strong(next [][]int) []int {
	n := len(next)
	index, low, set := make([]int, n), make([]int, n), make([]int, n)
	for i := range set {
		set[i] = -1
	}
	var stack []int
	type call struct{ node, edge int }
	count, sets := 0, 0
	for root := range n {
		if index[root] != 0 {
			continue
		}
		calls := []call{{root, 0}}
		for len(calls) > 0 {
			c := &calls[len(calls)-1]
			v := c.node
			if c.edge == 0 {
				count++
				index[v], low[v] = count, count
				stack = append(stack, v)
			}
			if c.edge < len(next[v]) {
				w := next[v][c.edge]
				c.edge++
				switch {
				case index[w] == 0:
					calls = append(calls, call{w, 0})
				case set[w] < 0:
					low[v] = min(low[v], index[w])
				}
				continue
			}
			calls = calls[:len(calls)-1]
			if len(calls) > 0 {
				p := calls[len(calls)-1].node
				low[p] = min(low[p], low[v])
			}
			if low[v] != index[v] {
				continue
			}
			for {
				w := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				set[w] = sets
				if w == v {
					break
				}
			}
			sets++
		}
	}
	return set
}
