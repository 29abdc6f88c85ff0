package stock

import (
	"bufio"
	"context"
	"fmt"
	"math/rand"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// Bin-packing classes of E. Falkenauer, "A hybrid grouping genetic algorithm
// for bin packing", Journal of Heuristics 2 (1996) 5–30: uniform (sizes 20 to
// 100 in bins of 150) and triplets (each bin of 100.0 is filled exactly by
// three items).

type binpack struct {
	name    string
	cap     float64
	items   []float64
	optimum int // bins; 0 if not known
}

// problem asks for the items as pieces of one bar kind, without kerf.
func (b binpack) problem() Problem {
	p := Problem{Bars: []Bar{{Length: b.cap, Price: 1}}}
	for _, v := range b.items {
		p.Pieces = append(p.Pieces, Piece{Length: v, Quantity: 1})
	}
	return p
}

// triplets follows the recipe: the first item from 38.0 to 49.0, the second
// from 25.0 to half of what is left, the third the rest.
func triplets(n int, seed int64) binpack {
	r := rand.New(rand.NewSource(seed))
	b := binpack{name: fmt.Sprintf("triplets %d/%d", n, seed), cap: 100, optimum: n / 3}
	for range n / 3 {
		first := 380 + r.Intn(490-380+1)
		rest := 1000 - first
		second := 250 + r.Intn(rest/2-250+1)
		for _, v := range []int{first, second, rest - second} {
			b.items = append(b.items, float64(v)/10)
		}
	}
	return b
}

// uniform follows the recipe: sizes from 20 to 100, bins of 150.
func uniform(n int, seed int64) binpack {
	r := rand.New(rand.NewSource(seed))
	b := binpack{name: fmt.Sprintf("uniform %d/%d", n, seed), cap: 150}
	for range n {
		b.items = append(b.items, float64(20+r.Intn(81)))
	}
	return b
}

// generated lists instances made by the recipes, each per class and size.
func generated(each int) []binpack {
	var out []binpack
	for _, n := range []int{60, 120, 249, 501} {
		for k := range each {
			out = append(out, triplets(n, int64(k)))
		}
	}
	for _, n := range []int{60, 120, 250, 500, 1000} {
		for k := range each {
			out = append(out, uniform(n, int64(k)))
		}
	}
	return out
}

// openInstances reads the files of the OR-Library and their proven optima
// from the folder that BARWRIGHT_BINPACK names.
func openInstances(t testing.TB) []binpack {
	dir := os.Getenv("BARWRIGHT_BINPACK")
	if dir == "" {
		return nil
	}
	optimum := map[string]int{}
	raw, err := os.ReadFile(filepath.Join(dir, "optima.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(raw), "\n") {
		if f := strings.Fields(line); len(f) == 2 && f[0] != "instance" {
			if optimum[f[0]], err = strconv.Atoi(f[1]); err != nil {
				t.Fatal(err)
			}
		}
	}
	var out []binpack
	for k := 1; k <= 4; k++ {
		raw, err := os.ReadFile(filepath.Join(dir, fmt.Sprintf("binpack%d.txt", k)))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, parseBinpack(t, string(raw), optimum)...)
	}
	if len(out) != 80 {
		t.Fatalf("%d open instances read, there should be 80", len(out))
	}
	return out
}

// parseBinpack reads one file of the OR-Library.
func parseBinpack(t testing.TB, text string, optimum map[string]int) []binpack {
	sc := bufio.NewScanner(strings.NewReader(text))
	sc.Split(bufio.ScanWords)
	word := func() string {
		if !sc.Scan() {
			t.Fatal("an instance file ends early")
		}
		return sc.Text()
	}
	num := func() float64 {
		v, err := strconv.ParseFloat(word(), 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	var out []binpack
	for range int(num()) {
		b := binpack{name: word(), cap: num()}
		items := int(num())
		num() // the best known when the files were made, for four of them too high
		for range items {
			b.items = append(b.items, num())
		}
		if b.optimum = optimum[b.name]; b.optimum == 0 {
			t.Fatalf("no proven optimum for %s", b.name)
		}
		out = append(out, b)
	}
	return out
}

// TestBinPackingClasses demands a proven optimum of every instance.
func TestBinPackingClasses(t *testing.T) {
	open := openInstances(t)
	if len(open) == 0 {
		t.Log("BARWRIGHT_BINPACK is not set: only generated instances are solved, the open ones are not")
	}
	each := 10
	if testing.Short() {
		each = 2
	}
	for _, b := range append(open, generated(each)...) {
		p := b.problem()
		pl, err := Solve(context.Background(), p, Options{TimeLimit: 60 * time.Second})
		if err != nil {
			t.Fatalf("%s: %v", b.name, err)
		}
		mustCheck(t, p, pl)
		if !pl.Optimal {
			t.Errorf("%s: not proven: %d bars, bound %v", b.name, len(pl.Bars), pl.LowerBound)
		}
		if b.optimum > 0 && len(pl.Bars) != b.optimum {
			t.Errorf("%s: %d bars, proven optimum %d", b.name, len(pl.Bars), b.optimum)
		}
	}
}

// BenchmarkBinPacking solves every instance of each class; ns/op is per
// instance, slowest-ms the slowest of them.
func BenchmarkBinPacking(b *testing.B) {
	classes := map[string][]binpack{}
	var names []string
	for _, in := range append(openInstances(b), generated(20)...) {
		name := strings.FieldsFunc(in.name, func(r rune) bool { return r == '/' || r == '_' })[0]
		name = strings.ReplaceAll(name, " ", "-")
		if classes[name] == nil {
			names = append(names, name)
		}
		classes[name] = append(classes[name], in)
	}
	for _, name := range names {
		list := classes[name]
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			var slowest time.Duration
			unproven := 0
			k := 0
			for b.Loop() {
				for _, in := range list {
					start := time.Now()
					pl, err := Solve(context.Background(), in.problem(), Options{TimeLimit: 60 * time.Second})
					if err != nil {
						b.Fatal(err)
					}
					if !pl.Optimal {
						unproven++
					}
					slowest = max(slowest, time.Since(start))
					k++
				}
			}
			b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(k), "ms/instance")
			b.ReportMetric(float64(slowest.Milliseconds()), "slowest-ms")
			b.ReportMetric(float64(unproven), "unproven")
		})
	}
}
