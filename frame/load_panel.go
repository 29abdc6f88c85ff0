package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"

	"barwright/standard"
)

// Panel is a sheet that is held in the slots of bars round it, or screwed onto them.
type Panel struct {
	Name       string
	HeldBy     []*Member
	Thickness  float64 // mm
	Material   string  // "" where the file names none
	Engagement float64 // depth in the slot, mm; 0: computed
	Clearance  float64 // left free in the slot on each side, mm; 0: computed
	Screwed    bool
	Sheet      *PanelSheet // as it is cut, nil where the bars leave no plane for it
	Origin     hcl.Range
}

// Doorway is an opening or a corridor with a corner that the frame must pass.
type Doorway struct {
	Name     string
	Width    float64    // clear width of an opening, 0 for a corridor
	Height   float64    // clear height
	Corridor [2]float64 // clear widths before and after the corner, zero for an opening
	Origin   hcl.Range
}

// readPanels makes the panels of the panel blocks.
func (l *loader) readPanels() {
	l.each("panel", func(b *block) {
		f, ok := b.refs("held_by", false)
		p := &Panel{Name: b.name, Origin: b.header}
		var ok1, ok2, ok3, ok4, ok5 bool
		p.Thickness, ok1 = b.positive("thickness", 0)
		p.Engagement, ok2 = b.positive("engagement", 0)
		p.Clearance, ok3 = b.notNegative("clearance", 0)
		p.Screwed, ok4 = b.flag("screwed", false)
		p.Material, ok5 = b.str("material", "")
		if !(ok && ok1 && ok2 && ok3 && ok4 && ok5) || !b.has("thickness") {
			return
		}
		if p.Material != "" && indexOf(panelMaterials(), p.Material) < 0 {
			l.fail(b.at("material"), fmt.Sprintf("The material %q is not known", shorten(p.Material)), didYouMean(p.Material, panelMaterials()))
			return
		}
		for _, name := range []string{"engagement", "clearance"} {
			if p.Screwed && b.has(name) {
				l.fail(b.at(name), fmt.Sprintf("%s fights screwed", name), "A screwed panel lies on its bars, in no slot; leave one of the two out.")
				return
			}
		}
		if n := len(f.bars); n < 3 || n > 4 {
			noun := "bars"
			if n == 1 {
				noun = "bar"
			}
			l.fail(b.at("held_by"), fmt.Sprintf("held_by names %d %s", n, noun), "A panel is held by a ring, or by three or four bars round it.")
			return
		}
		if p.HeldBy, ok = f.members(); ok {
			l.f.Panels = append(l.f.Panels, p)
		}
	})
}

// readDoorways makes the doorways of the doorway blocks.
func (l *loader) readDoorways() {
	l.each("doorway", func(b *block) {
		d := &Doorway{Name: b.name, Origin: b.header}
		var ok, ok1 bool
		d.Width, ok = b.positive("width", 0)
		d.Height, ok1 = b.positive("height", 0)
		corridor, ok2 := b.nums("corridor", 2)
		if !(ok && ok1 && ok2) || !b.has("height") {
			return
		}
		switch {
		case b.has("width") && b.has("corridor"):
			l.fail(b.at("corridor"), "corridor fights width", "An opening has a width; a corridor with a corner has two.")
			return
		case !b.has("width") && !b.has("corridor"):
			l.fail(b.header, fmt.Sprintf("%s has no width", b), "Add width = 820, or corridor = [900, 1050] for a corner.")
			return
		}
		for i, w := range corridor {
			if w <= 0 {
				l.fail(b.at("corridor"), fmt.Sprintf("A clear width is %s", show(w)), "Both must be more than 0.")
				return
			}
			d.Corridor[i] = w
		}
		l.f.Doorways = append(l.f.Doorways, d)
	})
}

// panelMaterials returns the sheet materials that are known.
func panelMaterials() []string { return materialNames(standard.Panel) }
