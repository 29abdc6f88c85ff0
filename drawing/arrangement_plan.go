package drawing

import (
	"fmt"
	"slices"

	"barwright/geom"
	"barwright/standard"
)

// plan is where everything of the arrangement stands.
type plan struct {
	size         Size
	scale        standard.Scale
	pictureScale standard.Scale
	front        geom.Vec2 // lower left corners of the views
	side         geom.Vec2
	top          geom.Vec2
	picture      Area   // for the pictorial view with its item references
	free         []Area // for tables and notes
	ownList      bool   // the parts list has sheets of its own
	ownPicture   bool   // the pictorial view has a sheet of its own
}

// Sizes of the layout in mm, common practice, no source.
const (
	edgeGap     = 11.0 // from the border to the nearest drawing; the centring marks reach 10 in
	dimPitch    = 8.0  // between neighbouring dimension lines
	viewGap     = 10.0 // from a dimension line to the next view
	mostSpare   = 22.0 // that is given to each gap between views
	leastBar    = 2.0  // width of the narrowest bar on the paper in the three views
	leastPicBar = 1.5  // and in the pictorial view
	leastView   = 70.0 // largest size of the frame on the paper
	mostRows    = 24   // of a parts list on the first sheet
)

// sheetSizes returns the names of the sheets to try, the smallest first.
func (a *arrangement) sheetSizes() []string {
	if a.o.Size != "" {
		return []string{a.o.Size}
	}
	return []string{"A4", "A3", "A2", "A1"}
}

// readable reports whether a frame of a size can be read at a scale: its bars are wide enough, and its largest size is at least
// some mm on the paper.
func (a *arrangement) readable(size geom.Vec, scale standard.Scale, least float64) bool {
	k := scale.Factor()
	return a.pitch*k >= leastBar && max(size.X, size.Y, size.Z)*k >= least
}

// plan chooses sheet and scale: the smallest sheet on which the frame can be read, with the pictorial
// view and the parts list where they fit; at worst they go to sheets of their own.
//
// Where positions along an axis are too many for any sheet, only those that most bars share are kept.
func (a *arrangement) plan() (plan, error) {
	for _, most := range []int{20, 8, 3, 0} {
		a.xs, a.ys, a.zs = mainStations(a.xs, most), mainStations(a.ys, most), mainStations(a.zs, most)
		a.rowsX, a.rowsY, a.rowsZ = a.rowsX[:min(most, len(a.rowsX))], a.rowsY[:min(most, len(a.rowsY))], a.rowsZ[:min(most, len(a.rowsZ))]
		if p, ok := a.planOnce(); ok {
			return p, nil
		}
	}
	return plan{}, fmt.Errorf("arrangement: no sheet up to %s holds the views at 1:10000", a.sheetSizes()[len(a.sheetSizes())-1])
}

// planOnce tries sheets and scales with all the positions there are.
func (a *arrangement) planOnce() (plan, bool) {
	long := len(a.f.Parts) > mostRows
	// The largest sheet is the last resort: a sheet of its own for the picture or the list comes before it.
	sizes := a.sheetSizes()
	small, large := sizes, []string{}
	if n := len(sizes); n > 1 {
		small, large = sizes[:n-1], sizes[n-1:]
	}
	owns := [][2]bool{{long, false}, {true, false}, {long, true}, {true, true}}
	for _, sizes := range [][]string{small, large} {
		for _, own := range owns {
			if p, ok := a.tryScales(sizes, own, false); ok {
				return p, true
			}
		}
	}
	slices.Reverse(sizes) // it can't be read well: then at least as large as can be
	for _, own := range owns {
		if p, ok := a.tryScales(sizes, own, true); ok {
			return p, true
		}
	}
	return plan{}, false
}

// tryScales lays the views out on the first of some sheets, at the largest scale, that holds them: only scales that can be
// read, or any. own says whether the parts list and the picture have sheets of their own.
func (a *arrangement) tryScales(sizes []string, own [2]bool, any bool) (plan, bool) {
	for _, name := range sizes {
		size, _ := SizeOf(name)
		for _, scale := range standard.Scales() {
			if !any && !a.readable(a.box.Size(), scale, leastView) {
				continue
			}
			if p, ok := a.try(size, scale, own[0], own[1]); ok {
				return p, true
			}
		}
	}
	return plan{}, false
}

// try lays the views out on a sheet at a scale.
func (a *arrangement) try(size Size, scale standard.Scale, ownList, ownPicture bool) (plan, bool) {
	p := plan{size: size, scale: scale, ownList: ownList, ownPicture: ownPicture}
	space := size.Space()
	height := a.blockHeight
	if !ownList {
		height += rowHeight * float64(len(a.f.Parts)+1)
	}
	block := Area{geom.Vec2{X: space.High.X - float64(standard.TitleBlockWidth), Y: space.Low.Y},
		geom.Vec2{X: space.High.X, Y: space.Low.Y + height}}
	if ownPicture {
		return p, a.placeViews(&p, space, block, 0, 1) || a.placeViews(&p, space, block, 0, 0)
	}
	for _, ps := range standard.Scales() {
		if ps.Factor() > scale.Factor() {
			continue
		}
		if ps.Factor()*2.6 < scale.Factor() || a.pitch*ps.Factor() < leastPicBar && ps != scale {
			break
		}
		p.pictureScale = ps
		need := a.pictureNeed(ps)
		if ps != scale {
			need.Y += 4 * DimText
		}
		for _, beside := range []bool{true, false} {
			reserve := 0.0
			if beside {
				reserve = need.X + viewGap
			}
			for _, share := range []float64{1, 0.4, 0} {
				if a.placeViews(&p, space, block, reserve, share) && a.placePicture(&p, space, block, need, beside) {
					return p, true
				}
			}
		}
	}
	return p, false
}

// balloonRoom returns how much width and height n item references take round a view of a size. They take as much on the left as on the
// right, so that a view centred with them stands in the middle.
func balloonRoom(n int, size geom.Vec2) geom.Vec2 {
	var low, high geom.Vec2
	high = size
	for _, p := range balloonPorts(n, Area{High: size}) {
		low = geom.Vec2{X: min(low.X, p.centre.X-balloonRadius), Y: min(low.Y, p.centre.Y-balloonRadius)}
		high = geom.Vec2{X: max(high.X, p.centre.X+balloonRadius), Y: max(high.Y, p.centre.Y+balloonRadius)}
	}
	return high.Sub(low).Sub(size)
}

// pictureNeed returns the width and height of the pictorial view with its item references at a scale.
func (a *arrangement) pictureNeed(scale standard.Scale) geom.Vec2 {
	size := geom.Vec2{X: a.picExt.Width(), Y: a.picExt.Height()}.Scale(scale.Factor())
	return size.Add(balloonRoom(len(balloonItems(a.scene)), size))
}

// pictureAlone returns the sheet and the largest scale of the pictorial view on a sheet of its own.
func (a *arrangement) pictureAlone() (Size, standard.Scale) {
	var size Size
	scales := standard.Scales()
	for _, name := range a.sheetSizes() {
		size, _ = SizeOf(name)
		space := size.Space()
		for _, s := range scales {
			need := a.pictureNeed(s)
			if need.X+2*edgeGap <= space.Width() && need.Y+2*edgeGap+a.blockHeight <= space.Height() && a.readable(a.box.Size(), s, leastExploded) {
				return size, s
			}
		}
	}
	space := size.Space()
	for _, s := range scales {
		if need := a.pictureNeed(s); need.X+2*edgeGap <= space.Width() && need.Y+2*edgeGap+a.blockHeight <= space.Height() {
			return size, s
		}
	}
	return size, scales[len(scales)-1]
}

// room is what the views and their dimensions take, paper mm.
type room struct {
	w, h, d, side                      float64 // width and height of the front view, depth of the view from above and of the side view
	zRun, xRun, yRun                   float64 // of running dimensions
	overWidth, overDepth, besideHeight float64 // of overall dimensions with those of rows
	zPast, xPast, yPast                float64 // of values that stand past the ends of their view, where they are many
}

func (a *arrangement) room(k float64) room {
	r := ruler{scale: k, units: a.u}
	over := func(rows []pitched) float64 { return firstDim + dimPitch*float64(len(rows)) + DimText + valueGap }
	past := func(st []station, length float64) float64 {
		return max(0, (valuePitch*float64(len(st)+1)-length)/2)
	}
	return room{a.frontExt.Width() * k, a.frontExt.Height() * k, a.topExt.Height() * k, a.sideExt.Width() * k,
		r.depth(a.zs), r.depth(a.xs), r.depth(a.ys), over(a.rowsX), over(a.rowsY), over(a.rowsZ) - DimText,
		past(a.zs, a.frontExt.Height()*k), past(a.xs, a.frontExt.Width()*k), past(a.ys, a.sideExt.Width()*k)}
}

// placeViews gives the views their places if they fit beside the block of title and list, with a width reserved at the right.
// What is left over is spread over the gaps, of the height only a share.
func (a *arrangement) placeViews(p *plan, space, block Area, reserve, share float64) bool {
	r := a.room(p.scale.Factor())
	left := max(r.zRun, r.xPast)
	spareX := space.Width() - (left + r.w + r.besideHeight + viewGap + r.side) - edgeGap*1.5 - reserve
	above, below := max(r.overDepth, r.zPast), r.xRun
	if a.third {
		above, below = r.xRun, max(r.yRun, r.zPast)
	}
	spareY := space.Height() - (above + r.h + r.overWidth + viewGap/2 + r.d + below) - 2*edgeGap
	if spareX < 0 || spareY < 0 {
		return false
	}
	gapX, gapY := min(spareX/4, mostSpare), share*min(spareY/3, mostSpare)
	x, y := space.Low.X+edgeGap+gapX+left, space.High.Y-edgeGap-gapY-above
	between := r.overWidth + viewGap/2 + gapY
	p.front, p.top = geom.Vec2{X: x, Y: y - r.h}, geom.Vec2{X: x, Y: y - r.h - between - r.d}
	if a.third {
		p.top, p.front = geom.Vec2{X: x, Y: y - r.d}, geom.Vec2{X: x, Y: y - r.d - between - r.h}
	}
	p.side = geom.Vec2{X: x + r.w + r.besideHeight + viewGap + gapX, Y: p.front.Y}
	views := a.viewAreas(p)
	for i, v := range views {
		if v.overlaps(block.grown(listGap/2)) || v.Low.X < space.Low.X || v.Low.Y < space.Low.Y ||
			v.overlaps(views[(i+1)%3]) || i < 2 && v.High.X > space.High.X-reserve {
			return false
		}
	}
	a.findFree(p, space, block)
	return true
}

// viewAreas returns the areas of the front view, the side view and the view from above with their dimensions.
func (a *arrangement) viewAreas(p *plan) [3]Area {
	r := a.room(p.scale.Factor())
	at := func(corner geom.Vec2, left, down, right, up float64) Area {
		return Area{corner.Sub(geom.Vec2{X: left, Y: down}), corner.Add(geom.Vec2{X: right, Y: up})}
	}
	out := [3]Area{at(p.front, r.zRun, 0, r.w+r.besideHeight, r.h), at(p.side, r.yPast, r.yRun, r.side+r.yPast, r.h+r.overDepth),
		at(p.top, r.xPast, r.xRun, r.w+r.xPast, r.d+r.overWidth)}
	if a.third {
		out[2] = at(p.top, r.xPast, r.overWidth, r.w+r.xPast, r.d+r.xRun)
	}
	return out
}

// placePicture gives the pictorial view its area if it fits: right of the views and over the block, or in the corner between
// the side view and the view from above.
func (a *arrangement) placePicture(p *plan, space, block Area, need geom.Vec2, beside bool) bool {
	views := a.viewAreas(p)
	side, top := views[1], views[2]
	high := space.High.Sub(geom.Vec2{X: edgeGap / 3, Y: edgeGap / 2})
	area := Area{geom.Vec2{X: side.High.X + viewGap, Y: block.High.Y + listGap}, high}
	if !beside {
		area = Area{geom.Vec2{X: top.High.X + viewGap, Y: block.High.Y + listGap}, geom.Vec2{X: high.X, Y: side.Low.Y - listGap}}
		if a.third {
			area.Low.Y, area.High.Y = side.High.Y+listGap, high.Y
		}
	}
	if area.Width() < need.X || area.Height() < need.Y {
		return false
	}
	p.picture = area
	for i, free := range p.free {
		if free.overlaps(area.grown(listGap)) {
			p.free[i] = free.clipped(area.grown(listGap))
		}
	}
	return true
}

// findFree finds the areas for tables and notes: in the corner between the views, and under them.
func (a *arrangement) findFree(p *plan, space, block Area) {
	views := a.viewAreas(p)
	side, low := views[1], views[2]
	corner := Area{geom.Vec2{X: low.High.X + viewGap, Y: space.Low.Y + edgeGap}, geom.Vec2{X: block.Low.X - listGap, Y: side.Low.Y - listGap}}
	if a.third {
		low = views[0]
		corner.Low.X, corner.High.Y = side.High.X+viewGap, block.High.Y
	}
	under := Area{space.Low.Add(geom.Vec2{X: edgeGap, Y: edgeGap}), geom.Vec2{X: block.Low.X - listGap, Y: low.Low.Y - listGap}}
	p.free = []Area{corner, under}
}

// grown returns the area with every side moved outward.
func (a Area) grown(d float64) Area {
	return Area{a.Low.Sub(geom.Vec2{X: d, Y: d}), a.High.Add(geom.Vec2{X: d, Y: d})}
}

// clipped returns the larger of what stays of the area left of another and under it.
func (a Area) clipped(b Area) Area {
	left, under := a, a
	left.High.X, under.High.Y = min(a.High.X, b.Low.X), min(a.High.Y, b.Low.Y)
	if left.Width()*max(0, left.Height()) >= under.Height()*max(0, under.Width()) {
		return left
	}
	return under
}

// overlaps reports whether two areas share a piece.
func (a Area) overlaps(b Area) bool {
	return a.Low.X < b.High.X && b.Low.X < a.High.X && a.Low.Y < b.High.Y && b.Low.Y < a.High.Y
}
