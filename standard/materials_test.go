package standard_test

import (
	"math"
	"testing"

	"barwright/standard"
)

func TestAlloysAgreeWithEurocode(t *testing.T) {
	// Source: EN 1999-1-1:2007 table 3.2b, extruded profiles, f0 and fu (thickest wall).
	for name, want := range map[string][2]float64{
		"EN AW-6060 T5": {100, 140}, "EN AW-6060 T6": {140, 170}, "EN AW-6060 T64": {120, 180}, "EN AW-6060 T66": {150, 195},
		"EN AW-6063 T5": {110, 160}, "EN AW-6063 T6": {160, 195}, "EN AW-6063 T66": {180, 225},
	} {
		m, ok := standard.Alloy(name)
		if !ok || m.Yield != want[0] || m.Ultimate != want[1] {
			t.Errorf("%s: got %+v, want %v", name, m, want)
		}
		// Source: EN 1999-1-1:2007 clause 3.2.5.
		if m.E != 70000 || m.G != 27000 || m.Poisson != 0.3 || m.Density != 2.7e-6 || m.Expansion != 23e-6 {
			t.Errorf("%s: %+v", name, m)
		}
	}
	for _, name := range []string{"", "EN AW-6060", "8.8", "PLA", "EN AW-7075 T6"} {
		if m, ok := standard.Alloy(name); ok {
			t.Errorf("%q: %+v", name, m)
		}
	}
}

// TestMassOfATube: a square tube 40 x 40 x 3 has 444 mm² and weighs 1.1988 kg
// a metre (area times 2700 kg/m³).
func TestMassOfATube(t *testing.T) {
	m, _ := standard.Alloy("EN AW-6063 T66")
	if got := (40*40 - 34*34) * 1000 * m.Density; !near(got, 1.1988, 1e-9) {
		t.Errorf("%v kg", got)
	}
}

func TestAlloyStrength(t *testing.T) {
	tests := []struct {
		name                  string
		wall, yield, ultimate float64
		source                string
	}{
		{"EN AW-6060 T5", 5, 120, 160, "EN 755-2:2016, t <= 5"},
		{"EN AW-6060 T5", 5.1, 100, 140, "EN 755-2:2016, 5 < t <= 25"},
		{"EN AW-6060 T6", 3, 150, 190, "EN 755-2:2016, t <= 3"},
		{"EN AW-6060 T6", 3.1, 140, 170, "EN 755-2:2016, 3 < t <= 25"},
		{"EN AW-6060 T64", 15, 120, 180, "EN 755-2:2016, t <= 15"},
		{"EN AW-6060 T66", 0.6, 160, 215, "EN 755-2:2016, t <= 3"},
		{"EN AW-6060 T66", 3, 160, 215, "EN 755-2:2016, t <= 3"},
		{"EN AW-6060 T66", 3.1, 150, 195, "EN 755-2:2016, 3 < t <= 25"},
		{"EN AW-6063 T5", 3, 130, 175, "EN 755-2:2016, t <= 3"},
		{"EN AW-6063 T5", 3.1, 110, 160, "EN 755-2:2016, 3 < t <= 25"},
		{"EN AW-6063 T6", 10, 170, 215, "EN 755-2:2016, t <= 10, from memory"},
		{"EN AW-6063 T6", 10.1, 160, 195, "EN 755-2:2016, 10 < t <= 25"},
		{"EN AW-6063 T66", 10, 200, 245, "EN 755-2:2016, t <= 10"},
		{"EN AW-6063 T66", 10.1, 180, 225, "EN 755-2:2016, 10 < t <= 25"},
	}
	for _, test := range tests {
		s, ok := standard.AlloyStrength(test.name, test.wall)
		if !ok || s.Yield != test.yield || s.Ultimate != test.ultimate {
			t.Errorf("%s at %v mm: got %+v, want %+v", test.name, test.wall, s, test)
		}
	}
	// The plain figures are never over those for a known wall.
	for _, m := range standard.Materials() {
		for _, wall := range []float64{0.6, 3, 3.5, 5, 5.5, 10, 11, 15, 25} {
			s, ok := standard.AlloyStrength(m.Name, wall)
			if m.Kind == standard.Aluminium && !ok && m.Name != "EN AW-6060 T64" {
				t.Errorf("%s at %v mm: no strength", m.Name, wall)
			}
			if ok && (s.Yield < m.Yield || s.Ultimate < m.Ultimate) {
				t.Errorf("%s at %v mm: %+v under %+v", m.Name, wall, s, m)
			}
		}
	}
	for _, wall := range []float64{0, -1, 26, math.NaN()} {
		if s, ok := standard.AlloyStrength("EN AW-6060 T66", wall); ok {
			t.Errorf("%v mm: %+v", wall, s)
		}
	}
}

// TestScrewClasses multiplies stress areas and strengths to the least ultimate
// loads of ISO 898-1:2013 table 4, in N, coarse threads; they are printed in
// three digits from rounded areas.
func TestScrewClasses(t *testing.T) {
	loads := map[string]map[string]float64{
		"8.8":  {"M3": 4020, "M4": 7020, "M5": 11350, "M6": 16100, "M8": 29200, "M10": 46400, "M12": 67400, "M16": 125000},
		"10.9": {"M3": 5230, "M4": 9130, "M5": 14800, "M6": 20900, "M8": 38100, "M10": 60300, "M12": 87700, "M16": 163000},
		"12.9": {"M3": 6140, "M4": 10700, "M5": 17300, "M6": 24500, "M8": 44600, "M10": 70800, "M12": 103000, "M16": 192000},
	}
	for class, table := range loads {
		steel, ok := standard.ScrewClass(class)
		if !ok || !steel.Source.Checked {
			t.Errorf("%s: %+v", class, steel)
		}
		for thread, want := range table {
			row, _ := standard.ThreadByName(thread)
			if got := row.StressArea * steel.Ultimate; math.Abs(got/want-1) > 0.005 {
				t.Errorf("%s %s: %v N, ISO 898-1 says %v", thread, class, got, want)
			}
		}
	}
	// Source: ISO 898-1:2013 table 3, Rp0.2 min (d up to 16); ISO 3506-1:2009 table 2.
	for class, want := range map[string]float64{"8.8": 640, "10.9": 940, "12.9": 1100, "A2-70": 450} {
		if steel, _ := standard.ScrewClass(class); steel.Yield != want {
			t.Errorf("%s: yield %v, want %v", class, steel.Yield, want)
		}
	}
	if steel, _ := standard.ScrewClass("8.8"); steel.Density != standard.SteelDensity {
		t.Errorf("steel weighs %v and %v", steel.Density, standard.SteelDensity)
	}
}

// TestMaterialIdentities: isotropic metals obey G = E/2(1+nu); every material
// is in a sane range and stands once in its kind.
func TestMaterialIdentities(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range standard.Materials() {
		key := string(m.Kind) + " " + m.Name
		if seen[key] {
			t.Errorf("%s stands twice", key)
		}
		seen[key] = true
		if found, ok := standard.MaterialOf(m.Kind, m.Name); !ok || found != m {
			t.Errorf("%s: found %+v", key, found)
		}
		if m.G > 0 && math.Abs(m.G*2*(1+m.Poisson)/m.E-1) > 0.01 {
			t.Errorf("%s: G %v with E %v and nu %v", key, m.G, m.E, m.Poisson)
		}
		if m.Density < 0.5e-6 || m.Density > 8e-6 || m.E < 1000 || m.E > 210000 || m.Ultimate < 20 ||
			m.Yield > m.Ultimate || m.Expansion < 0 || m.Expansion > 120e-6 {
			t.Errorf("%s: %+v", key, m)
		}
		if m.Kind == standard.Print && (m.Softens < 50 || m.Source.Checked) {
			t.Errorf("%s: %+v", key, m)
		}
	}
	for _, name := range []string{"PLA", "PETG", "ABS", "ASA", "PC"} {
		if _, ok := standard.PrintPolymer(name); !ok {
			t.Errorf("no print of %s", name)
		}
	}
	// Densities of sheets: PMMA 1.19, PC 1.20 kg/dm³ (common data sheets, from memory).
	for name, want := range map[string]float64{"PMMA": 1.19e-6, "PC": 1.2e-6} {
		if m, ok := standard.PanelMaterial(name); !ok || !near(m.Density, want, 1e-12) {
			t.Errorf("%s: %+v", name, m)
		}
	}
}

// TestPolymersAndSheets: typical figures of common data sheets, from memory:
// kg/m³, MPa, MPa, 1e-6/K, °C.
func TestPolymersAndSheets(t *testing.T) {
	for _, test := range []struct {
		kind                                    standard.MaterialKind
		name                                    string
		density, e, ultimate, expansion, soften float64
	}{
		{standard.Print, "PLA", 1240, 3200, 50, 68, 55}, {standard.Print, "PETG", 1270, 2000, 45, 60, 70},
		{standard.Print, "ABS", 1040, 2000, 35, 90, 90}, {standard.Print, "ASA", 1070, 2000, 38, 95, 95},
		{standard.Print, "PC", 1200, 2200, 55, 68, 130}, {standard.Print, "PA12", 1010, 1300, 42, 110, 100},
		{standard.Panel, "PMMA", 1190, 3200, 70, 70, 0}, {standard.Panel, "PC", 1200, 2350, 65, 68, 0},
		{standard.Panel, "plywood", 680, 8000, 40, 0, 0}, {standard.Panel, "MDF", 750, 2700, 22, 0, 0},
		{standard.Panel, "EN AW-5754 H22", 2670, 70000, 220, 23.8, 0}, {standard.Panel, "S235", 7850, 210000, 360, 12, 0},
	} {
		m, ok := standard.MaterialOf(test.kind, test.name)
		if !ok || !near(m.Density*1e9, test.density, 1e-6) || m.E != test.e || m.Ultimate != test.ultimate ||
			!near(m.Expansion*1e6, test.expansion, 1e-9) || m.Softens != test.soften {
			t.Errorf("%s %s: %+v", test.kind, test.name, m)
		}
	}
}
