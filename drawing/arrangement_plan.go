package drawing

import (
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
	picture      Area // for the pictorial view with its item references
	free         Area // for tables
	ownList      bool // the parts list has sheets of its own
	ownPicture   bool // the pictorial view has a sheet of its own
}

// Sizes of the layout in mm, common practice, no source.
const (
	edgeGap     = 12.0 // from the border to the nearest drawing; the centring marks reach 10 in
	dimPitch    = 8.0  // between neighbouring dimension lines
	viewGap     = 12.0 // from a dimension line to the next view
	leastBar    = 2.5  // width of the narrowest bar on the paper in the three views
	leastPicBar = 1.5  // and in the pictorial view
	mostRows    = 24   // of a parts list on the first sheet
)

// plan chooses sheet and scale: the smallest sheet on which the narrowest bar can be seen, with the pictorial
// view and the parts list where they fit; at worst they go to sheets of their own.
func (a *arrangement) plan() plan {
	sizes := []string{"A4", "A3", "A2", "A1"}
	if a.o.Size != "" {
		sizes = []string{a.o.Size}
	}
	long := len(a.f.Parts) > mostRows
	for _, least := range []float64{leastBar, 0} {
		for _, own := range [][2]bool{{long, false}, {true, false}, {long, true}, {true, true}} {
			for _, name := range sizes {
				size, _ := SizeOf(name)
				for _, scale := range standard.Scales() {
					if a.pitch*scale.Factor() < least {
						break
					}
					if p, ok := a.try(size, scale, own[0], own[1]); ok {
						return p
					}
				}
			}
		}
	}
	// Nothing fits, not even at 1:10000 on the largest sheet: the frame file's limit of 1e6 mm keeps us from here.
	size, _ := SizeOf(sizes[len(sizes)-1])
	p, _ := a.try(size, standard.Scale{Num: 1, Den: 10000}, true, true)
	return p
}

// try lays the views out on a sheet at a scale.
func (a *arrangement) try(size Size, scale standard.Scale, ownList, ownPicture bool) (plan, bool) {
	p := plan{size: size, scale: scale, ownList: ownList, ownPicture: ownPicture}
	space := size.Space()
	block := a.blockHeight()
	if !ownList {
		block += rowHeight * float64(len(a.f.Parts)+1)
	}
	corner := geom.Vec2{X: space.High.X - float64(standard.TitleBlockWidth), Y: space.Low.Y + block}
	if ownPicture {
		p.pictureScale = a.pictureAlone(size)
		ok := a.placeViews(&p, space, corner, geom.Vec2{})
		return p, ok
	}
	for _, ps := range standard.Scales() {
		if ps.Factor() > scale.Factor() {
			continue
		}
		if ps.Factor()*4.01 < scale.Factor() || a.pitch*ps.Factor() < leastPicBar {
			break
		}
		p.pictureScale = ps
		need := geom.Vec2{X: a.picExt.Width(), Y: a.picExt.Height()}.Scale(ps.Factor()).Add(a.balloonRoom(ps.Factor()))
		if ps != scale {
			need.Y += ViewText * 2
		}
		if a.placeViews(&p, space, corner, need) {
			return p, true
		}
	}
	return p, false
}

// balloonRoom returns how much width and height the item references take round the pictorial view.
func (a *arrangement) balloonRoom(scale float64) geom.Vec2 {
	n := len(balloonItems(a.scene))
	view := Area{High: geom.Vec2{X: a.picExt.Width() * scale, Y: a.picExt.Height() * scale}}
	low, high := view.Low, view.High
	for _, p := range balloonPorts(n, view) {
		low = geom.Vec2{X: min(low.X, p.X-balloonRadius), Y: min(low.Y, p.Y-balloonRadius)}
		high = geom.Vec2{X: max(high.X, p.X+balloonRadius), Y: max(high.Y, p.Y+balloonRadius)}
	}
	return high.Sub(low).Sub(view.High)
}

// pictureAlone returns the largest scale of the pictorial view on a sheet of its own.
func (a *arrangement) pictureAlone(size Size) standard.Scale {
	space := size.Space()
	all := standard.Scales()
	for _, s := range all {
		room := a.balloonRoom(s.Factor())
		if a.picExt.Width()*s.Factor()+room.X+2*edgeGap <= space.Width() &&
			a.picExt.Height()*s.Factor()+room.Y+2*edgeGap+a.blockHeight() <= space.Height() {
			return s
		}
	}
	return all[len(all)-1]
}

// placeViews gives the views their places if they fit beside a block whose upper left corner is given, and the pictorial view
// of a size that of need; it spreads what is left over evenly.
func (a *arrangement) placeViews(p *plan, space Area, corner, need geom.Vec2) bool {
	k := p.scale.Factor()
	r := ruler{scale: k, units: a.u}
	w, h, d := a.frontExt.Width()*k, a.frontExt.Height()*k, a.topExt.Height()*k
	zRun, xRun, yRun := r.depth(a.zs), r.depth(a.xs), r.depth(a.ys)
	betweenX := firstDim + dimPitch*float64(len(a.rowsZ)) + viewGap
	overTop := firstDim + dimPitch*float64(len(a.rowsY)) + DimText + valueGap
	betweenY := firstDim + dimPitch*float64(len(a.rowsX)) + DimText + valueGap + viewGap/2
	viewsW := zRun + w + betweenX + a.sideExt.Width()*k
	viewsH := overTop + h + betweenY + d + xRun
	if a.third {
		viewsH = xRun + d + betweenY + h + max(yRun, 0)
		overTop = xRun
	}
	spareY := space.Height() - viewsH - 2*edgeGap
	if spareY < 0 {
		return false
	}
	// The pictorial view stands right of the views, over the block.
	spareX := space.Width() - viewsW - edgeGap - edgeGap/2
	if need.X > 0 {
		spareX -= need.X + viewGap
		if need.Y+listGap+edgeGap/2 > space.High.Y-corner.Y {
			spareX = -1
		}
	}
	if spareX < 0 {
		return false
	}
	step := min(spareX/4, 24)
	x := space.Low.X + edgeGap + zRun + step
	y := space.High.Y - edgeGap - overTop - min(spareY/3, 20)
	p.front = geom.Vec2{X: x, Y: y - h}
	p.top = geom.Vec2{X: x, Y: p.front.Y - betweenY - min(spareY/3, 20) - d}
	if a.third {
		p.top = geom.Vec2{X: x, Y: y - d}
		p.front = geom.Vec2{X: x, Y: p.top.Y - betweenY - min(spareY/3, 20) - h}
	}
	p.side = geom.Vec2{X: x + w + betweenX + step, Y: p.front.Y}
	sideRight := p.side.X + a.sideExt.Width()*k
	p.picture = Area{geom.Vec2{X: sideRight + viewGap, Y: corner.Y + listGap},
		geom.Vec2{X: space.High.X, Y: space.High.Y - edgeGap/2}}
	if p.ownPicture && corner.Y+listGap > p.side.Y-yRun && sideRight > corner.X-listGap {
		return false
	}
	if !a.third && corner.X-listGap < sideRight && corner.Y+listGap > p.side.Y-yRun {
		return false
	}
	if low := p.top; !a.third && low.X+w > corner.X-listGap && low.Y-xRun < corner.Y+listGap {
		return false
	}
	if low := p.front; a.third && sideRight > corner.X-listGap && low.Y-yRun < corner.Y+listGap {
		return false
	}
	p.free = Area{geom.Vec2{X: x + w + viewGap, Y: space.Low.Y + edgeGap}, geom.Vec2{X: corner.X - listGap, Y: p.side.Y - yRun - listGap}}
	if a.third {
		p.free = Area{}
	}
	return true
}

// blockHeight returns how high the title block stands.
func (a *arrangement) blockHeight() float64 {
	s := &Sheet{Size: Size{"A4", 210, 297}}
	return s.DrawTitleBlock(a.titleBlock("", "")).Height()
}
