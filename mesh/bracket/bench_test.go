package bracket

import "testing"

// BenchmarkBuild builds one part of each gallery entry.
func BenchmarkBuild(b *testing.B) {
	for _, c := range lookCases(b) {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				if _, err := BuildAll(c.spec); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
