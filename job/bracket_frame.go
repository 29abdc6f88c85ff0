package job

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"

	"barwright/frame"
	"barwright/geom"
	"barwright/internal/parallel"
	"barwright/mesh"
	"barwright/mesh/bracket"
)

// PrintedPart is a printed part of a frame and all its places. Parts that are alike share one.
type PrintedPart struct {
	Mark     string // "P1"; pieces of one jig share it
	Result   *bracket.Result
	Quantity int
	Places   []PrintedPlace // none for gauges and jigs
	on       []string       // what it serves
	wanted   []*wanted      // for what it is made
}

// PrintedPlace is where a printed part sits: the motion from the part as printed to the frame.
type PrintedPlace struct {
	Name  string
	Place geom.Motion
}

// FileStem returns the stem of the part's files.
func (p *PrintedPart) FileStem() string {
	if strings.Contains(p.Result.Name, " ") {
		return p.Mark + "-" + fileName(p.Result.Name)
	}
	return p.Mark + "-" + p.Result.Kind
}

// wanted is one printed part that a frame asks for.
type wanted struct {
	spec   bracket.Spec
	mount  *geom.Motion // from mounted coordinates to the frame, nil where it has no place
	name   string
	joint  *frame.Joint
	shared *frame.Shared // in place of joint: it serves several, or none
	count  int
	origin hcl.Range
	on     []*frame.Member // the bars that it sits on, or is used at
	end    string          // of a bar: side of the frame
	face   string          // of a bar: side of the frame
	at     float64         // along the bar
	sets   []frame.Setter  // of a spacer
}

// maxPrinted bounds the different printed parts of a frame: each takes some milliseconds to build.
const maxPrinted = 300

// printParts works out the printed parts of a frame, puts the screws of printed joints where their parts hold them, and adds all to
// the hardware list. Errors are *[frame.Diagnostics].
func printParts(f *frame.Frame) ([]*PrintedPart, error) {
	list, err := wantedParts(f)
	if err != nil || len(list) == 0 {
		return nil, err
	}
	var keys []string
	groups := map[string][]*wanted{}
	for _, w := range list {
		k := specKey(w.spec)
		if groups[k] == nil {
			keys = append(keys, k)
		}
		groups[k] = append(groups[k], w)
	}
	if len(keys) > maxPrinted {
		return nil, f.Problem(list[0].origin, fmt.Sprintf("The frame asks for %d different printed parts", len(keys)), fmt.Sprintf("%d are the most; make their bars alike.", maxPrinted))
	}
	slices.SortStableFunc(keys, func(a, b string) int {
		return cmp.Compare(kindIndex(groups[a][0].spec.Kind), kindIndex(groups[b][0].spec.Kind))
	})
	built := buildGroups(keys, groups)
	var out []*PrintedPart
	for i, k := range keys {
		parts, err := placeGroup(f, groups[k], &built[i])
		if err != nil {
			return nil, err
		}
		out = append(out, parts...)
	}
	f.NotchPrinted()
	return out, nil
}

// builtGroup is what came of building the part of wants that are alike.
type builtGroup struct {
	mark    string
	results []*bracket.Result
	err     error
	first   *wanted // the one that limits the part
}

// buildGroups builds the part of each group, on all processors.
func buildGroups(keys []string, groups map[string][]*wanted) []builtGroup {
	built := make([]builtGroup, len(keys))
	parallel.Do(len(keys), func(i int) { built[i] = buildGroup(groups[keys[i]], fmt.Sprintf("P%d", i+1)) })
	return built
}

func kindIndex(name string) int {
	return slices.IndexFunc(bracket.Kinds(), func(k bracket.Kind) bool { return k.Name == name })
}

// specKey tells specs apart whose parts differ. The free lengths of bars only limit a part.
func specKey(s bracket.Spec) string {
	var b strings.Builder
	profile := func(p *geom.Profile) string {
		if p == nil {
			return ""
		}
		return p.Name
	}
	fmt.Fprintf(&b, "%s|%s|%s|%s|%g|%s|%s|%g", s.Kind, profile(s.Profile), profile(s.ProfileB), s.Thread, s.Wall, s.Text, s.Material, s.Load)
	names := make([]string, 0, len(s.Params))
	for n := range s.Params {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		if !strings.HasPrefix(n, "room") {
			fmt.Fprintf(&b, "|%s=%.4f", n, s.Params[n])
		}
	}
	if s.Part != nil {
		b.WriteString("|" + s.Part.Mark)
	}
	return b.String()
}

// buildGroup builds one part for wants that are alike, within the shortest free lengths that any of them has.
func buildGroup(group []*wanted, mark string) builtGroup {
	first := group[0]
	s := first.spec
	for _, w := range group {
		for _, n := range []string{"room", "room_a", "room_b"} {
			if v, ok := w.spec.Params[n]; ok && v < s.Params[n] {
				s.Params[n] = v
				first = w
			}
		}
	}
	if s.Text == "" && s.Kind != "drill-jig" {
		s.Text = mark
	}
	results, err := bracket.BuildAll(s)
	return builtGroup{mark, results, err, first}
}

// placeGroup puts the part of a group in the frame, with what comes with it.
func placeGroup(f *frame.Frame, group []*wanted, built *builtGroup) ([]*PrintedPart, error) {
	if built.err != nil {
		return nil, partProblem(f, built.first, built.err)
	}
	mark, results := built.mark, built.results
	var out []*PrintedPart
	for i, r := range results {
		p := &PrintedPart{Mark: mark, Result: r}
		for _, w := range group {
			p.Quantity += w.count
			p.on, p.wanted = append(p.on, w.name), append(p.wanted, w)
			if w.mount != nil {
				p.Places = append(p.Places, PrintedPlace{Name: fmt.Sprintf("%s %s", mark, w.name), Place: r.Place.Then(*w.mount)})
				f.AddFittings(printedFittings(f, r, mark+" "+w.name, *w.mount))
			}
			switch {
			case w.joint != nil:
				setFasteners(w.joint, r, *w.mount)
			case w.shared != nil:
				setShared(w.shared, r, *w.mount)
			}
			if i == 0 {
				f.AddUses(useOf(w, r, mark))
			}
		}
		bodies, err := printedBodies(f, group, r, mark)
		if err != nil {
			return nil, err
		}
		f.AddPrinted(bodies...)
		f.AddHardware(printedHardware(p))
		out = append(out, p)
	}
	return out, nil
}

// useOf tells the builder of a part.
func useOf(w *wanted, r *bracket.Result, mark string) *frame.PrintedUse {
	t := &frame.PrintedUse{Mark: mark, Kind: r.Kind, On: w.on, End: w.end, Face: w.face, At: w.at, Sets: w.sets}
	switch {
	case w.joint != nil:
		t.Joints = []*frame.Joint{w.joint}
	case w.shared != nil:
		t.Shared, t.Joints = w.shared, w.shared.Joints
	}
	if t.Joints == nil && w.mount != nil {
		t.Screws = w.screws(w.on, r)
	}
	return t
}

// printedHardware lists a part and what it needs.
func printedHardware(p *PrintedPart) []frame.Hardware {
	list := []frame.Hardware{{Item: "printed part", Size: p.Mark + " " + p.Result.Name, Quantity: p.Quantity, Mass: p.Result.Mass,
		Note: fmt.Sprintf("%s, %s each when solid", p.Result.Material, bracket.Grams(p.Result.Mass))}}
	for _, h := range p.Result.Hardware() {
		h.Quantity *= p.Quantity
		list = append(list, h)
	}
	return list
}

// setFasteners puts the screws of a joint where its printed part holds them.
func setFasteners(j *frame.Joint, r *bracket.Result, mount geom.Motion) {
	if r.Kind == "brace-foot" {
		away := j.A.Direction()
		if j.EndA == 1 {
			away = away.Scale(-1)
		}
		j.Corner = &frame.Corner{At: mount.T, LegA: away, LegB: mount.EX, SideA: j.A.SideFacing(mount.EX), SideB: j.SideB}
	}
	setCorner(j, r)
	j.Fasteners = nil
	for _, s := range r.Screws {
		seat, dir := mount.Apply(s.Seat), mount.Turn(s.Dir)
		tip := seat.Add(dir.Scale(s.Length))
		bar := j.A
		if off(j.B, tip) < off(j.A, tip) {
			bar = j.B
		}
		j.Fasteners = append(j.Fasteners, slotFastener(s, seat, dir, bar))
	}
}

// setCorner gives the corner of a joint the size of its printed part.
func setCorner(j *frame.Joint, r *bracket.Result) {
	c := j.Corner
	if c == nil {
		return
	}
	c.Leg, c.Thick = 0, r.Wall
	for _, q := range r.Mesh.Points {
		at := r.Place.Apply(geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])})
		if r.Kind == "corner-inside" && at.Y > -1 {
			continue // the webs reach further than the wings, and stand beside both bars
		}
		c.Leg = max(c.Leg, at.X, at.Y)
	}
}

// slotFastener returns a part's screw into a slot nut of a bar.
func slotFastener(s bracket.Screw, seat, dir geom.Vec, bar *frame.Member) frame.Fastener {
	return frame.Fastener{Item: s.Item(), Standard: s.Standard, Thread: s.Thread, Length: s.Length, Key: s.Key,
		Seat: seat, Dir: dir, HeadSide: bar.SideFacing(dir.Scale(-1)), TipIn: bar, TipEnd: -1, SlotNut: true, Printed: true}
}

// off returns how far a point lies outside of a bar's outline, negative inside.
func off(m *frame.Member, at geom.Vec) float64 {
	q, size := m.Place.Unapply(at), m.Bar.Profile.Size()
	return max(math.Abs(q.X)-size.X/2, math.Abs(q.Y)-size.Y/2, -q.Z, q.Z-m.Bar.Length)
}

// partProblem turns an error of a part into one of the file.
func partProblem(f *frame.Frame, w *wanted, err error) error {
	detail := sentence(f, err)
	var e *bracket.Error
	if errors.As(err, &e) && len(e.Fields) > 1 {
		detail += ". What fights: " + strings.Join(e.Fields, " against ")
	}
	if e != nil && e.Rule == bracket.RuleBed {
		detail += ". Make it smaller, or say how large the printer is: printing { bed = [300, 300, 300] }"
	}
	return f.Problem(w.origin, fmt.Sprintf("The printed part %s for %s can't be", w.spec.Kind, w.name), detail+".")
}

// sentence returns what an error of a part says, without its fields, as the beginning of a sentence. Names stay as the file has them.
func sentence(f *frame.Frame, err error) string {
	detail := err.Error()
	var e *bracket.Error
	if errors.As(err, &e) {
		detail = e.Detail
	}
	first, _, _ := strings.Cut(detail, " ")
	bar := slices.ContainsFunc(f.Members, func(m *frame.Member) bool { return m.Name == first })
	if bar || e != nil && slices.Contains(e.Fields, first) {
		return detail
	}
	return strings.ToUpper(detail[:1]) + detail[1:]
}

// addPrinted adds the printed parts to a scene.
func (j *Job) addPrinted(s *mesh.Scene) {
	for _, p := range j.Printed {
		if len(p.Places) == 0 {
			continue
		}
		s.Shapes = append(s.Shapes, &mesh.Shape{Name: "printed " + p.Mark + " " + p.Result.Kind, Mark: p.Mark, Mesh: p.Result.Mesh})
		for _, at := range p.Places {
			s.Items = append(s.Items, mesh.Item{Name: at.Name, Mark: p.Mark, Shape: len(s.Shapes) - 1, Place: at.Place, Kind: mesh.PrintedItem})
		}
	}
}
