package stock

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"math/rand"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"barwright/internal/outside"
)

// randomProblem draws a job with several bar lengths, prices, kerf, trim and
// limited offcuts, small enough for a general-purpose solver to prove.
func randomProblem(r *rand.Rand) Problem {
	kerfs := []float64{0, 1, 2, 2.5, 3, 3.2, 5}
	p := Problem{Kerf: kerfs[r.Intn(len(kerfs))], Trim: float64(r.Intn(4) * 10)}
	base := []float64{6000, 5000, 4000, 3000, 2000}
	kinds := 1 + r.Intn(3)
	r.Shuffle(len(base), func(i, j int) { base[i], base[j] = base[j], base[i] })
	rate := 5 + r.Float64()*5
	long := 0.0
	for j := range kinds {
		b := Bar{Length: base[j]}
		b.Price = math.Round(b.Length/1000*rate*(0.9+0.3*r.Float64())*10) / 10
		long = max(long, b.Length)
		if r.Intn(4) == 0 { // some of it at a lower price
			p.Bars = append(p.Bars, Bar{Length: b.Length, Price: math.Round(b.Price*8) / 10, Quantity: 1 + r.Intn(3)})
		}
		p.Bars = append(p.Bars, b)
	}
	for range r.Intn(5) {
		p.Bars = append(p.Bars, Bar{Length: float64(300 + r.Intn(2500)), Price: []float64{0, 0, 1, 4.5}[r.Intn(4)], Quantity: 1 + r.Intn(2), Offcut: true})
	}
	lengths := 2 + r.Intn(9)
	for i := range lengths {
		l := math.Floor(long*0.1) + float64(r.Intn(int(long*0.5)))
		if r.Intn(3) == 0 {
			l += float64(r.Intn(10)) / 10
		}
		if r.Intn(8) == 0 { // just fits n times with n−1 kerfs
			n := float64(2 + r.Intn(4))
			l = math.Floor(((long-p.Trim)-(n-1)*p.Kerf)/n*10) / 10
		}
		l = min(l, long-p.Trim)
		p.Pieces = append(p.Pieces, Piece{Length: l, Quantity: 1 + r.Intn(7), Mark: fmt.Sprintf("A%d", i+1)})
	}
	return p
}

// arcFlowModel writes the job as a mixed-integer programme in CPLEX LP format
// for a solver that no one here wrote: pieces are arcs between places in a
// bar, one network for all bars (Valério de Carvalho 1999). It shares nothing
// with the package: places are found here, in hundredths of a millimetre.
func arcFlowModel(p Problem) string {
	h := func(v float64) int { return int(math.Round(v * 100)) }
	type arc struct{ from, to, piece int }
	need := map[int]int{}
	for _, c := range p.Pieces {
		need[h(c.Length)] += c.Quantity
	}
	var lens []int
	for l := range need {
		lens = append(lens, l)
	}
	for i := range lens { // falling
		for k := i + 1; k < len(lens); k++ {
			if lens[k] > lens[i] {
				lens[i], lens[k] = lens[k], lens[i]
			}
		}
	}
	// A bar of usable length u ends at place u + kerf: every piece brings one kerf.
	ends := make([]int, len(p.Bars))
	far := 0
	for j, b := range p.Bars {
		ends[j] = h(b.Length) - h(p.Trim) + h(p.Kerf)
		far = max(far, ends[j])
	}
	at := map[int]bool{0: true}
	arcs := map[arc]bool{}
	for _, l := range lens {
		w := l + h(p.Kerf)
		reach := map[int]bool{}
		for s := range at {
			for n := 1; n <= need[l] && s+n*w <= far; n++ {
				arcs[arc{s + (n-1)*w, s + n*w, l}] = true
				reach[s+n*w] = true
			}
		}
		for s := range reach {
			at[s] = true
		}
	}
	var b strings.Builder
	b.WriteString("Minimize\n cost:")
	for j, bar := range p.Bars {
		fmt.Fprintf(&b, " + %s y%d", strconv.FormatFloat(bar.Price, 'f', -1, 64), j)
	}
	b.WriteString("\nSubject To\n")
	in, out := map[int][]string{}, map[int][]string{}
	byPiece := map[int][]string{}
	var names []string
	for a := range arcs {
		name := fmt.Sprintf("a%d_%d", a.from, a.piece)
		names = append(names, name)
		out[a.from] = append(out[a.from], name)
		in[a.to] = append(in[a.to], name)
		byPiece[a.piece] = append(byPiece[a.piece], name)
	}
	for s := range at {
		fmt.Fprintf(&b, " n%d:", s)
		for _, v := range out[s] {
			b.WriteString(" + " + v)
		}
		for _, v := range in[s] {
			b.WriteString(" - " + v)
		}
		if s == 0 {
			for j := range p.Bars {
				fmt.Fprintf(&b, " - y%d", j)
			}
		} else {
			for j := range p.Bars {
				if s <= ends[j] {
					fmt.Fprintf(&b, " + e%d_%d", s, j)
				}
			}
		}
		b.WriteString(" = 0\n")
	}
	for j := range p.Bars {
		fmt.Fprintf(&b, " b%d: - y%d", j, j)
		for s := range at {
			if s > 0 && s <= ends[j] {
				fmt.Fprintf(&b, " + e%d_%d", s, j)
			}
		}
		b.WriteString(" = 0\n")
	}
	for _, l := range lens {
		fmt.Fprintf(&b, " p%d:", l)
		for _, v := range byPiece[l] {
			b.WriteString(" + " + v)
		}
		fmt.Fprintf(&b, " >= %d\n", need[l])
	}
	b.WriteString("Bounds\n")
	for j, bar := range p.Bars {
		if q := bar.Quantity; q > 0 {
			fmt.Fprintf(&b, " y%d <= %d\n", j, q)
		}
	}
	b.WriteString("General\n")
	for j := range p.Bars {
		fmt.Fprintf(&b, " y%d\n", j)
	}
	for _, v := range names {
		b.WriteString(" " + v + "\n")
	}
	b.WriteString("End\n")
	return b.String()
}

// runExternal returns the optimum that the tool proves, and false if it could not in time.
func runExternal(t *testing.T, tool, model string, seconds int) (float64, bool) {
	dir := t.TempDir()
	file, sol := filepath.Join(dir, "m.lp"), filepath.Join(dir, "m.sol")
	if err := os.WriteFile(file, []byte(model), 0o600); err != nil {
		t.Fatal(err)
	}
	var cmd *exec.Cmd
	if strings.HasSuffix(tool, "cbc") {
		cmd = exec.Command(tool, file, "ratio", "0", "sec", strconv.Itoa(seconds), "solve", "solu", sol)
	} else {
		cmd = exec.Command(tool, "--lp", file, "--tmlim", strconv.Itoa(seconds), "--cuts", "-w", sol)
	}
	log, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, log)
	}
	raw, err := os.ReadFile(sol)
	if err != nil {
		t.Fatalf("%v\n%s", err, log)
	}
	if strings.HasSuffix(tool, "cbc") {
		line, _, _ := bytes.Cut(raw, []byte("\n"))
		v, found := strings.CutPrefix(string(line), "Optimal - objective value ")
		x, err := strconv.ParseFloat(strings.TrimSpace(v), 64)
		return x, found && err == nil
	}
	for _, line := range strings.Split(string(raw), "\n") {
		f := strings.Fields(line) // s mip rows cols status value
		if len(f) == 6 && f[0] == "s" {
			x, err := strconv.ParseFloat(f[5], 64)
			return x, f[4] == "o" && err == nil
		}
	}
	return 0, false
}

// TestAgainstExternalSolver compares costs with cbc or glpsol (Debian packages
// coinor-cbc, glpk-utils). It runs where one is installed; in CI it must be.
func TestAgainstExternalSolver(t *testing.T) {
	tool := outside.Program(t, "cbc", "glpsol")
	n, seconds := 10, 5
	if v := os.Getenv("BARWRIGHT_SWEEP"); v != "" {
		n, _ = strconv.Atoi(v)
		seconds = 15
		if n <= 0 {
			t.Fatal("BARWRIGHT_SWEEP is the number of instances to compare")
		}
	}
	compared, open := 0, 0
	for seed := 0; compared < n; seed++ {
		if seed > 4*n {
			t.Fatalf("only %d of %d instances could be compared", compared, n)
		}
		r := rand.New(rand.NewSource(int64(seed)))
		p := randomProblem(r)
		pl, err := Solve(context.Background(), p, Options{TimeLimit: 10 * time.Second})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		mustCheck(t, p, pl)
		if len(pl.Unplaced) > 0 {
			continue
		}
		want, proven := runExternal(t, tool, arcFlowModel(p), seconds)
		if !proven {
			t.Logf("seed %d: not proven by %s in %d s, left out", seed, filepath.Base(tool), seconds)
			continue
		}
		compared++
		if !pl.Optimal {
			open++
			t.Logf("seed %d: not proven: cost %v, bound %v", seed, pl.Cost, pl.LowerBound)
		}
		if math.Abs(pl.Cost-want) > 1e-6*(1+want) {
			t.Errorf("seed %d: cost %v, %s says %v (bound %v, optimal %v)\n%+v", seed, pl.Cost, filepath.Base(tool), want, pl.LowerBound, pl.Optimal, p)
		}
	}
	t.Logf("%d instances agree in cost with %s; %d of them not proven here", compared, filepath.Base(tool), open)
}
