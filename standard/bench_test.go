package standard_test

import (
	"testing"

	"barwright/standard"
)

func BenchmarkScrewLookup(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := standard.ButtonHeadScrew("M10"); !ok {
			b.Fatal("none")
		}
	}
}

func BenchmarkToleranceLookup(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := standard.GeneralTolerance("m", 1110); !ok {
			b.Fatal("none")
		}
	}
}
