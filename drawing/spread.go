package drawing

import "math"

// spread moves places along a line, given in rising order, as little as possible (least squares) so that
// neighbours keep a gap and all lie between low and high. Where there is no
// room for all, they keep the gap and run past high. It is isotonic regression by pooling
// neighbours (Robertson, Wright and Dykstra, "Order Restricted Statistical Inference", 1988).
func spread(want []float64, gap, low, high float64) []float64 {
	type pool struct {
		sum   float64 // of the shifted places
		count int
	}
	n := len(want)
	var pools []pool
	for i, w := range want {
		// Taking i gaps off turns "at least a gap apart" into "not falling".
		pools = append(pools, pool{w - float64(i)*gap, 1})
		for k := len(pools); k > 1 && pools[k-1].sum/float64(pools[k-1].count) < pools[k-2].sum/float64(pools[k-2].count); k = len(pools) {
			pools[k-2].sum += pools[k-1].sum
			pools[k-2].count += pools[k-1].count
			pools = pools[:k-1]
		}
	}
	out := make([]float64, 0, n)
	top := high - float64(n-1)*gap
	for _, p := range pools {
		mean := math.Max(low, math.Min(top, p.sum/float64(p.count)))
		for range p.count {
			out = append(out, mean+float64(len(out))*gap)
		}
	}
	return out
}
