package standard

import (
	"math"
	"slices"
)

// MaterialKind says what a material is used for.
type MaterialKind string

// The kinds of materials in the table.
const (
	Aluminium  MaterialKind = "aluminium" // extruded bars
	ScrewSteel MaterialKind = "screw"     // property classes of screws
	Print      MaterialKind = "print"     // printed brackets, feet and jigs
	Panel      MaterialKind = "panel"     // sheets held by a frame
)

// Material is one material at room temperature. A figure that is unknown or
// does not apply is 0.
type Material struct {
	// Name is the designation: "EN AW-6060 T66", "8.8", "PETG", "PMMA".
	Name string
	// Kind says what it is for; a name such as "PC" may occur in two kinds.
	Kind MaterialKind
	// Density in kg/mm³: 2.7e-6 for aluminium.
	Density float64
	// E and G are the elastic and shear modulus in MPa.
	E, G float64
	// Poisson is Poisson's ratio.
	Poisson float64
	// Yield and Ultimate are the least 0.2 % proof stress and tensile
	// strength in MPa. For an alloy they hold for every wall up to 25 mm
	// (15 mm for T64): the lower of EN 755-2 and EN 1999-1-1; see
	// [AlloyStrength]. For a print they are typical, along the layers.
	Yield, Ultimate float64
	// Expansion is the linear thermal expansion in 1/K.
	Expansion float64
	// Softens is the temperature in °C at which a print gives way under
	// 0.45 MPa (ISO 75).
	Softens float64
	Source  Source
}

var materials = table("materials.csv", func(r record) Material {
	return Material{
		Name:      r.text("name"),
		Kind:      MaterialKind(r.text("kind")),
		Density:   r.float("density_kg_m3") / 1e9,
		E:         r.float("e_mpa"),
		G:         r.float("g_mpa"),
		Poisson:   r.float("poisson"),
		Yield:     r.float("yield_mpa"),
		Ultimate:  r.float("ultimate_mpa"),
		Expansion: r.float("expansion_1e6_k") / 1e6,
		Softens:   r.float("soften_c"),
		Source:    r.source(),
	}
})

// Materials returns all materials, grouped by kind.
func Materials() []Material { return slices.Clone(materials()) }

// MaterialOf returns the material of the given kind and name.
func MaterialOf(kind MaterialKind, name string) (Material, bool) {
	return find(materials(), func(m Material) bool { return m.Kind == kind && m.Name == name })
}

// Alloy returns an extrusion alloy with its temper, such as "EN AW-6060 T66".
func Alloy(name string) (Material, bool) { return MaterialOf(Aluminium, name) }

// ScrewClass returns the steel of a property class, such as "8.8" (ISO 898-1)
// or "A2-70" (ISO 3506-1), for threads up to M16.
func ScrewClass(class string) (Material, bool) { return MaterialOf(ScrewSteel, class) }

// PrintPolymer returns a printing polymer, such as "PETG".
func PrintPolymer(name string) (Material, bool) { return MaterialOf(Print, name) }

// PanelMaterial returns a sheet material, such as "PMMA" or "plywood".
func PanelMaterial(name string) (Material, bool) { return MaterialOf(Panel, name) }

// Strength is the least strength of an alloy's profiles with walls over
// WallOver up to and including WallUpTo mm (EN 755-2), in MPa.
type Strength struct {
	Name               string
	WallOver, WallUpTo float64
	Yield, Ultimate    float64
	Source             Source
}

var alloyStrengths = table("alloy_strengths.csv", func(r record) Strength {
	return Strength{
		Name:     r.text("name"),
		WallOver: r.float("wall_over_mm"),
		WallUpTo: r.upTo("wall_up_to_mm", math.Inf(1)),
		Yield:    r.float("yield_mpa"),
		Ultimate: r.float("ultimate_mpa"),
		Source:   r.source(),
	}
})

// AlloyStrength returns the least strength that EN 755-2 gives a profile of
// the alloy with the given wall in mm. It is never under the figures of
// [Alloy], which a cautious check uses whatever the wall.
func AlloyStrength(name string, wall float64) (Strength, bool) {
	return find(alloyStrengths(), func(s Strength) bool {
		return s.Name == name && wall > s.WallOver && wall <= s.WallUpTo
	})
}
