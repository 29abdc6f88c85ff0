package drawing

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
	"barwright/standard"
)

// arrangement is the three views and the pictorial view of a frame with their dimensions, before they have places.
type arrangement struct {
	f           *frame.Frame
	scene       *mesh.Scene
	known       topologies
	o           Options
	u           units
	third       bool
	frontExt    Area // true mm
	sideExt     Area
	topExt      Area
	picExt      Area
	xs, ys, zs  []station
	rowsX       []pitched
	rowsY       []pitched
	rowsZ       []pitched
	pitch       float64  // of the narrowest bar
	blockHeight float64  // of the title block, mm
	box         geom.Box // of the members, its foot at the floor where the frame stands there
}

// ArrangementSheets returns the arrangement of a frame: on the first sheet three views and a pictorial view with hidden lines
// removed, overall and main position dimensions, item references and the parts list; hardware, measuring table and notes where there is
// room, else on list sheets. It returns an error where the frame has no members or the scene is not the frame's.
func ArrangementSheets(f *frame.Frame, scene *mesh.Scene, o Options) ([]*Sheet, error) {
	o, err := o.settle(f)
	if err != nil {
		return nil, err
	}
	a, err := newArrangement(f, scene, o)
	if err != nil {
		return nil, err
	}
	p, err := a.plan()
	if err != nil {
		return nil, err
	}
	s := &Sheet{Name: "arrangement", Title: "Arrangement", Size: p.size}
	s.DrawBorder()
	a.drawFurniture(s, p)
	a.drawViews(s, p)
	sheets := []*Sheet{s}
	rest := a.drawLists(s, p)
	if p.ownPicture {
		sheets = append(sheets, a.pictureSheet())
	}
	sheets = append(sheets, a.listSheets(rest)...)
	NumberSheets(sheets)
	return sheets, nil
}

func newArrangement(f *frame.Frame, scene *mesh.Scene, o Options) (*arrangement, error) {
	if len(f.Members) == 0 || scene == nil || len(scene.Items) < len(f.Members) {
		return nil, errors.New("arrangement: the frame has no members, or its scene lacks some")
	}
	a := &arrangement{f: f, scene: scene, o: o, u: units{o.Units == "inch"}, third: o.Projection == "third"}
	a.known = topologies{}
	a.blockHeight = (&Sheet{Size: Size{"A4", 210, 297}}).DrawTitleBlock(a.titleBlock("", "")).Height()
	a.frontExt, a.topExt = extent(scene, fromFront), extent(scene, fromAbove)
	a.sideExt, a.picExt = extent(scene, a.sideView()), extent(scene, Pictorial())
	a.box = f.Box()
	if floor := f.Floor; f.OnFloor() && a.frontExt.Low.Y < floor+1 && floor < a.box.Low.Z {
		a.box.Low.Z = floor
	}
	a.xs, a.rowsX = positions(f, geom.X, a.box.Low.X, a.u)
	a.ys, a.rowsY = positions(f, geom.Y, a.box.Low.Y, a.u)
	a.zs, a.rowsZ = positions(f, geom.Z, a.box.Low.Z, a.u)
	a.pitch = f.Members[0].Profile.Pitch
	for _, m := range f.Members {
		a.pitch = min(a.pitch, m.Profile.Pitch)
	}
	return a, nil
}

// sideView returns the view that lies right of the front view: from the left in first angle, from the right in third (ISO 5456-2).
func (a *arrangement) sideView() View {
	if a.third {
		return fromRight
	}
	return fromLeft
}

// titleBlock returns the title block of a sheet of this frame.
func (a *arrangement) titleBlock(scale, kind string) TitleBlock {
	f := a.f
	number := f.Reference
	if number == "" {
		number = f.Name
	}
	return TitleBlock{Owner: f.TitleBlock.Owner, Number: number, Revision: f.Revision, Date: f.TitleBlock.Date,
		Title: f.Title, Supplement: kind, DocumentType: "Arrangement",
		Creator: f.TitleBlock.Creator, Approver: f.TitleBlock.Approver, Department: f.TitleBlock.Department,
		Scale: scale, Projection: a.o.Projection, Tolerance: "ISO 2768-m", Material: "see parts list",
		Mass: fmt.Sprintf("%.1f kg", f.Mass()), Quantity: "1", Fingerprint: f.Fingerprint,
		Settings: settingsOf(f), NotForManufacture: a.o.NotForManufacture}
}

// drawFurniture draws title block and parts list.
func (a *arrangement) drawFurniture(s *Sheet, p plan) {
	block := s.DrawTitleBlock(a.titleBlock(scaleText(p.scale), "Views, main dimensions, parts list"))
	if !p.ownList {
		s.drawUp(partsList(a.f, a.u, block.Width()), geom.Vec2{X: block.Low.X, Y: block.High.Y})
	}
}

// drawViews draws the views with their dimensions.
func (a *arrangement) drawViews(s *Sheet, p plan) {
	k := p.scale.Factor()
	makeView(a.scene, fromFront, k, a.known).draw(s, p.front)
	makeView(a.scene, a.sideView(), k, a.known).draw(s, p.side)
	makeView(a.scene, fromAbove, k, a.known).draw(s, p.top)
	a.dimension(s, p)
	if !p.ownPicture {
		a.drawPicture(s, p.picture, p.pictureScale, p.pictureScale != p.scale)
	}
}

// dimension draws the dimensions of the three views.
func (a *arrangement) dimension(s *Sheet, p plan) {
	k := p.scale.Factor()
	r := ruler{s: s, scale: k, units: a.u}
	right, up, down, left := geom.Vec2{X: 1}, geom.Vec2{Y: 1}, geom.Vec2{Y: -1}, geom.Vec2{X: -1}
	size := a.box.Size()
	// at is the paper point of a point of a view, given its extent and lower left corner.
	at := func(corner geom.Vec2, e Area, x, y float64) geom.Vec2 {
		return corner.Add(geom.Vec2{X: x, Y: y}.Sub(e.Low).Scale(k))
	}

	// Heights: positions left of the front view, the overall height right of it.
	r.along, r.out, r.zero = up, left, at(p.front, a.frontExt, a.frontExt.Low.X, a.box.Low.Z)
	r.running(a.zs)
	r.out, r.zero = right, at(p.front, a.frontExt, a.frontExt.High.X, a.box.Low.Z)
	a.overall(r, size.Z, a.rowsZ)

	// Widths: positions on the outer side of the view from above, the overall width between the views.
	low, high := at(p.top, a.topExt, a.box.Low.X, a.topExt.Low.Y), at(p.top, a.topExt, a.box.Low.X, a.topExt.High.Y)
	r.along, r.out, r.zero = right, down, low
	if a.third {
		r.out, r.zero = up, high
	}
	r.running(a.xs)
	if r.out, r.zero = up, high; a.third {
		r.out, r.zero = down, low
	}
	a.overall(r, size.X, a.rowsX)

	// Depths: positions below the side view, the overall depth above it. Seen from the left the front lies right.
	r.along = left
	front := -a.box.Low.Y
	if a.third {
		r.along, front = right, a.box.Low.Y
	}
	r.out, r.zero = down, at(p.side, a.sideExt, front, a.sideExt.Low.Y)
	r.running(a.ys)
	r.out, r.zero = up, at(p.side, a.sideExt, front, a.sideExt.High.Y)
	a.overall(r, size.Y, a.rowsY)
}

// overall draws the steps of rows, the shortest next to the outline, and outside them the overall size. Rows that leave no place for their
// text between the extension lines of those outside them are left out; their first and last bar have positions all the same.
func (a *arrangement) overall(r ruler, size float64, rows []pitched) {
	rows = slices.Clone(rows)
	slices.SortStableFunc(rows, func(p, q pitched) int { return cmp.Compare(p.to-p.from, q.to-q.from) })
	off := firstDim
	for i, row := range rows {
		ends := []float64{0, size}
		for _, o := range rows[i+1:] {
			ends = append(ends, o.from, o.to)
		}
		// Several rows are told apart by their names, where there is room for them.
		if len(rows) > 1 && r.steps(row, off, ends, row.named()) || r.steps(row, off, ends, row.text) {
			off += dimPitch
		}
	}
	r.dimension(0, size, off, a.u.place(size), "overall")
}

// drawPicture draws the pictorial view with its item references centred in an area.
func (a *arrangement) drawPicture(s *Sheet, area Area, scale standard.Scale, tellScale bool) {
	taken := a.drawPictorial(s, a.scene, area, scale.Factor())
	if tellScale {
		s.Write(Label, geom.Vec2{X: (area.Low.X + area.High.X) / 2, Y: max(taken.Low.Y-2.2*DimText, area.Low.Y)}, DimText, Centre,
			"Pictorial view "+scaleText(scale))
	}
}

// drawPictorial draws a scene in the pictorial view with the item references of its bars, centred in an area, and returns the
// area that it takes.
func (a *arrangement) drawPictorial(s *Sheet, scene *mesh.Scene, area Area, scale float64, lines ...[2]geom.Vec) Area {
	v := Pictorial()
	m := newLineModel(sceneBodies(scene, v, scale), a.known)
	e := extent(scene, v)
	view := placedView{m.view(v, LineOptions{Scale: scale}), e.Low.Scale(scale), geom.Vec2{X: e.Width(), Y: e.Height()}.Scale(scale)}
	at := area.Low.Add(area.High).Sub(view.size).Scale(0.5)
	shift := at.Sub(view.low)
	view.draw(s, at)
	sh := m.shader(v)
	refs := barRefs(scene, sh, scale)
	for i := range refs {
		for j := range refs[i].spots {
			refs[i].spots[j] = refs[i].spots[j].Add(shift)
		}
	}
	for _, l := range sh.visibleLines(lines, scale) {
		s.Line(Explode, l[0].Add(shift), l[1].Add(shift))
	}
	return s.drawItemRefs(refs, Area{at, at.Add(view.size)})
}

// pictureSheet returns a sheet of its own for the pictorial view.
func (a *arrangement) pictureSheet() *Sheet {
	size, scale := a.pictureAlone()
	s := &Sheet{Name: "arrangement-pictorial", Title: "Pictorial view", Size: size}
	s.DrawBorder()
	block := s.DrawTitleBlock(a.titleBlock(scaleText(scale), "Pictorial view"))
	a.drawPicture(s, Area{geom.Vec2{X: size.Space().Low.X, Y: block.High.Y}, size.Space().High}, scale, false)
	return s
}
