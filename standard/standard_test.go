package standard

import "testing"

func TestDefaultsOfEndScrews(t *testing.T) {
	for thread, key := range map[string]float64{"M6": 4, "M8": 5, "M10": 6} {
		s, ok := ButtonHeadScrew(thread)
		if !ok || s.Key != key {
			t.Errorf("%s: %+v", thread, s)
		}
	}
}
