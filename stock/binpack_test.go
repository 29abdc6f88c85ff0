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

type binpack struct {
	name    string
	cap     float64
	items   []float64
	optimum int
}

func readBinpack(t testing.TB, dir string) []binpack {
	opt := map[string]int{}
	raw, err := os.ReadFile(filepath.Join(dir, "optima.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(raw), "\n") {
		f := strings.Fields(line)
		if len(f) == 2 && f[0] != "instance" {
			opt[f[0]], _ = strconv.Atoi(f[1])
		}
	}
	var out []binpack
	for k := 1; k <= 4; k++ {
		f, err := os.Open(filepath.Join(dir, fmt.Sprintf("binpack%d.txt", k)))
		if err != nil {
			t.Fatal(err)
		}
		sc := bufio.NewScanner(f)
		sc.Split(bufio.ScanWords)
		word := func() string { sc.Scan(); return sc.Text() }
		num := func() float64 { v, _ := strconv.ParseFloat(word(), 64); return v }
		n := int(num())
		for range n {
			b := binpack{name: word(), cap: num()}
			m := int(num())
			num()
			for range m {
				b.items = append(b.items, num())
			}
			b.optimum = opt[b.name]
			out = append(out, b)
		}
		f.Close()
	}
	return out
}

func (b binpack) problem() Problem {
	p := Problem{Bars: []Bar{{Length: b.cap, Price: 1}}}
	for _, v := range b.items {
		p.Pieces = append(p.Pieces, Piece{Length: v, Quantity: 1})
	}
	return p
}

func triplets(n int, seed int64) binpack {
	r := rand.New(rand.NewSource(seed))
	b := binpack{name: fmt.Sprintf("t%d_%02d", n, seed), cap: 1000, optimum: n / 3}
	for range n / 3 {
		a := 380 + r.Intn(490-380+1)
		rest := 1000 - a
		lo := 250
		hi := rest / 2
		c := lo + r.Intn(hi-lo+1)
		b.items = append(b.items, float64(a), float64(c), float64(rest-c))
	}
	for i := range b.items {
		b.items[i] /= 10
	}
	b.cap = 100
	return b
}

func TestScratch(t *testing.T) {
	var list []binpack
	for _, n := range []int{60, 120, 249, 501} {
		for k := range 20 {
			list = append(list, triplets(n, int64(k)))
		}
	}
	if d := os.Getenv("BARWRIGHT_BINPACK"); d != "" {
		list = append(list, readBinpack(t, d)...)
	}
	for _, b := range list {
		t0 := time.Now()
		pl, err := Solve(context.Background(), b.problem(), Options{TimeLimit: 10 * time.Second})
		if err != nil {
			t.Fatal(err)
		}
		d := time.Since(t0)
		mark := ""
		if len(pl.Bars) != b.optimum || !pl.Optimal {
			mark = "FAIL"
		}
		if d > time.Second/4 || mark != "" {
			t.Logf("%s %d want %d lb %v %v %v %s", b.name, len(pl.Bars), b.optimum, pl.LowerBound, pl.Optimal, d, mark)
		}
	}
}
