package statics

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// Options say how a frame is analysed.
type Options struct {
	// Joints replaces the estimated stiffness of joints by the name of their joining, N·mm/rad.
	Joints map[string]JointStiffness
	// RigidJoints takes every joint as stiff, for comparison.
	RigidJoints bool
	// Shifts moves travelling groups from where they are drawn, mm along their travel, by the name of the group.
	Shifts map[string]float64
	// Sections remembers solved profiles from one call to the next; nil: a cache of its own.
	Sections *geom.SectionCache
}

// FrameModel is the model of a frame, with what belongs where.
type FrameModel struct {
	*Model
	Frame *frame.Frame
	// Pieces are the beams of each member of the frame, along its raw axis; none for bars of a travelling group that nothing
	// carries.
	Pieces map[*frame.Member][]int
	// Rides are the travelling masses.
	Rides []Ride
	// Carried are the travelling groups that bars of the frame carry; they stand where the options shift them.
	Carried []*frame.Group
	// Notes are the assumptions, in a builder's words.
	Notes   []string
	options Options
}

// Ride is a travelling mass.
type Ride struct {
	Name string
	Mass int // of the model
}

// FromFrame makes the model of a frame: every bar along the centroids of its section, cut where others meet it; joints
// as springs at the faces, on stiff arms from the axes; feet as studs that stand on the floor and can lift; panels and
// brackets as weight; travelling groups hanging on the bars that carry them by guides. It returns an error where a section cannot be solved.
func FromFrame(f *frame.Frame, o Options) (*FrameModel, error) {
	b := &builder{out: &FrameModel{Model: &Model{}, Frame: f, Pieces: map[*frame.Member][]int{}}, o: o, bars: map[*frame.Member]*bar{}}
	if b.o.Sections == nil {
		b.o.Sections = new(geom.SectionCache)
	}
	if err := b.addBars(); err != nil {
		return nil, err
	}
	b.planJoints()
	b.planGuides()
	b.planFeet()
	b.cutBars()
	b.addJoints()
	b.addGuides()
	b.addFeet()
	b.addMasses()
	b.out.options = b.o
	return b.out, nil
}

// builder makes a model of a frame.
type builder struct {
	out    *FrameModel
	o      Options
	bars   map[*frame.Member]*bar
	order  []*bar
	joints []*link
	guides []*guide
	feet   []*standing
}

// bar is a member on its way to beams.
type bar struct {
	member   *frame.Member
	section  *Section
	material *Material
	// centroid is that of the section, in raw bar coordinates; y the direction of the section's own y axis.
	centroid geom.Vec2
	y        geom.Vec
	shift    geom.Vec  // of a travelling group
	from, to float64   // ends of the axis, raw z
	cuts     []float64 // where something is fixed
	ends     [2]*link  // the joint that alone holds an end, and does so by its end
	loose    [2]bool   // the end needs a node of its own beside that joint
	nodes    []int
	at       []float64 // raw z of the nodes
}

// travels returns the travelling group of a member, or nil.
func travels(m *frame.Member) *frame.Group {
	if m.Group != nil && m.Group.Travel != nil {
		return m.Group
	}
	return nil
}

// addBars makes the sections and axes of all bars that stand still, and of the groups that they carry.
func (b *builder) addBars() error {
	b.findCarried()
	sections := map[*geom.Profile]*bar{}
	for _, m := range b.out.Frame.Members {
		if g := travels(m); g != nil && !slices.Contains(b.out.Carried, g) {
			continue
		}
		first, ok := sections[m.Profile]
		if !ok {
			var err error
			if first, err = b.sectionOf(m.Profile); err != nil {
				return fmt.Errorf("profile %s: %w", m.Profile.Name, err)
			}
			sections[m.Profile] = first
		}
		n := &bar{member: m, section: first.section, material: first.material, centroid: first.centroid,
			y: m.Place.Turn(first.y), from: m.Bar.Plane(0), to: m.Bar.Plane(1), shift: b.shiftOf(m, 0)}
		n.cuts = []float64{n.from, n.to}
		b.bars[m] = n
		b.order = append(b.order, n)
	}
	return nil
}

// sectionOf solves a profile. Its y axis is that about which it is strong turned by a quarter: Iz is the larger one.
func (b *builder) sectionOf(p *geom.Profile) (*bar, error) {
	sec, tor, err := b.o.Sections.Of(p)
	if err != nil {
		return nil, err
	}
	// Local y lies across the strong axis, so that Iz = ∫y² = I1; z follows right-handed about the bar's axis.
	s, c := math.Sincos(sec.Angle)
	across := geom.Vec2{X: -s, Y: c}
	z := geom.Vec2{X: -across.Y, Y: across.X}
	shear := func(d geom.Vec2) float64 {
		// The compliance along d, from those along x and y and their coupling.
		a := d.X*d.X/tor.ShearX + d.Y*d.Y/tor.ShearY
		if tor.ShearXY != 0 {
			a += 2 * d.X * d.Y / tor.ShearXY
		}
		return 1 / a
	}
	out := &Section{Area: sec.Area, Iz: sec.I1, Iy: sec.I2, J: tor.J, ShearY: shear(across), ShearZ: shear(z), Polar: sec.Polar()}
	off := tor.ShearCentre.Sub(sec.Centroid)
	out.ShearCentre = geom.Vec2{X: off.Dot(across), Y: off.Dot(z)}
	for _, q := range p.Region().Extreme(fibreTolerance) {
		q = q.Sub(sec.Centroid)
		out.Fibres = append(out.Fibres, geom.Vec2{X: q.Dot(across), Y: q.Dot(z)})
	}
	alloy, ok := standard.Alloy(p.Alloy)
	if !ok {
		alloy, _ = standard.Alloy(geom.DefaultAlloy)
		b.note("The alloy %q is not in the table; %s is taken.", p.Alloy, alloy.Name)
	}
	mt := &Material{E: alloy.E, G: alloy.G, Density: alloy.Density, Expansion: alloy.Expansion, Yield: alloy.Yield}
	return &bar{section: out, material: mt, centroid: sec.Centroid, y: geom.Vec{X: across.X, Y: across.Y}}, nil
}

// fibreTolerance is how far the split corners of a section lie inside its arcs, mm.
const fibreTolerance = 0.05

func (b *builder) note(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	if !slices.Contains(b.out.Notes, text) {
		b.out.Notes = append(b.out.Notes, text)
	}
}

// point returns the place of the axis at raw z.
func (n *bar) point(z float64) geom.Vec {
	return n.member.Place.Apply(geom.Vec{X: n.centroid.X, Y: n.centroid.Y, Z: z}).Add(n.shift)
}

// project returns the raw z on the bar's axis nearest to a place.
func (n *bar) project(p geom.Vec) float64 {
	return math.Max(n.from, math.Min(n.member.Place.Unapply(p.Sub(n.shift)).Z, n.to))
}

// cut asks for a node at raw z.
func (n *bar) cut(z float64) { n.cuts = append(n.cuts, z) }

// sameCut is the distance in mm under which two cuts are one.
const sameCut = 0.5

// cutBars makes nodes and beams.
func (b *builder) cutBars() {
	for _, n := range b.order {
		slices.SortFunc(n.cuts, cmp.Compare[float64])
		for _, z := range n.cuts {
			if k := len(n.at); k > 0 && z-n.at[k-1] < sameCut {
				if z == n.to && k > 1 {
					n.at[k-1] = z
				}
				continue
			}
			n.at = append(n.at, z)
		}
		if len(n.at) < 2 {
			n.at = []float64{n.from, n.to}
		}
		n.nodes = make([]int, len(n.at))
		for i, z := range n.at {
			n.nodes[i] = -1
			end := -1
			if i == 0 {
				end = 0
			} else if i == len(n.at)-1 {
				end = 1
			}
			if end >= 0 && n.ends[end] != nil && !n.loose[end] {
				continue // the joint's other bar gives the node
			}
			n.nodes[i] = b.node(n.point(z))
		}
	}
	for _, n := range b.order {
		b.addBeams(n)
	}
}

func (b *builder) node(p geom.Vec) int {
	b.out.Nodes = append(b.out.Nodes, p)
	return len(b.out.Nodes) - 1
}

// addBeams makes the beams of a bar. An end that only one joint holds hangs on the other bar's node by that bar's arm
// and the joint's give.
func (b *builder) addBeams(n *bar) {
	set := ""
	if s := n.member.Set; s != nil {
		set = string(s.Kind) + " " + s.Name
	}
	for i := range len(n.at) - 1 {
		m := Beam{Ends: [2]int{n.nodes[i], n.nodes[i+1]}, Release: [2]Release{Rigid(), Rigid()}, Y: n.y, Section: n.section,
			Material: n.material, Member: n.member.Name, Set: set, At: n.at[i]}
		for end := range 2 {
			if m.Ends[end] >= 0 {
				continue
			}
			l := n.ends[end]
			other := b.bars[l.other(n.member)]
			m.Ends[end] = other.nodeAt(other.project(n.point(n.at[i+end])))
			m.Offset[end] = n.point(n.at[i+end]).Sub(b.out.Nodes[m.Ends[end]])
			m.Release[end] = l.release()
		}
		b.out.Beams = append(b.out.Beams, m)
		b.out.Pieces[n.member] = append(b.out.Pieces[n.member], len(b.out.Beams)-1)
	}
}

// nodeAt returns the bar's own node nearest to raw z.
func (n *bar) nodeAt(z float64) int {
	best, at := math.Inf(1), -1
	for i, v := range n.at {
		if n.nodes[i] < 0 {
			continue
		}
		if d := math.Abs(v - z); d < best {
			best, at = d, n.nodes[i]
		}
	}
	return at
}
