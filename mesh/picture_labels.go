package mesh

import (
	"image"
	"image/color"
	"math"
	"sort"

	"barwright/geom"
)

// The colours of balloons and leaders.
var (
	inkColour   = color.NRGBA{38, 40, 44, 255}
	paperColour = color.NRGBA{255, 255, 255, 255}
	faintColour = color.NRGBA{120, 125, 132, 255}
)

// label is a balloon and where its leader ends.
type label struct {
	text  string
	at    point // the end of the leader
	to    point // the middle of the balloon
	width float64
	right bool // stands at the right side of the picture
}

// room returns the border that the picture keeps free: some air, more where balloons or notes stand.
func (p *painting) room() room {
	w, h := float64(p.width), float64(p.height)
	b := 0.055 * math.Min(w, h)
	r := room{b, b, b, b, w, h}
	if p.options.Balloons != NoBalloons {
		pen := newPen(nil, p.width, p.height)
		widest := 0.0
		for _, it := range p.scene.Items {
			if t := p.labelText(it); t != "" {
				widest = math.Max(widest, pen.balloonWidth(t))
			}
		}
		side := math.Min(b+widest+2*pen.size, 0.3*w)
		r.left, r.right = side, side
	}
	if len(p.scene.Notes) > 0 {
		b = 0.12 * math.Min(w, h)
		r.left, r.right, r.top, r.bottom = math.Max(r.left, b), math.Max(r.right, b), b, b
	}
	r.right += p.beside
	return r
}

// labelText returns what the balloon of an item says, "" where it has none.
func (p *painting) labelText(it Item) string {
	switch {
	case it.Kind == FittingItem || p.options.Balloons == NoBalloons:
		return ""
	case p.options.Balloons == NameBalloons:
		return shorten(oneLine(it.Name))
	}
	return shorten(oneLine(it.Mark))
}

// longestLabel is how many letters a balloon holds.
const longestLabel = 32

// shorten cuts text that no balloon holds.
func shorten(text string) string {
	if r := []rune(text); len(r) > longestLabel {
		return string(r[:longestLabel-1]) + "…"
	}
	return text
}

// balloonHeight and balloonWidth are the size in pixels: a circle round short text, a pill round longer.
func (p *pen) balloonHeight() float64 { return 1.75 * p.size }

func (p *pen) balloonWidth(text string) float64 {
	return math.Max(p.balloonHeight(), p.textWidth(text)+1.05*p.size)
}

// annotate draws balloons and notes.
func (p *painting) annotate(img *image.NRGBA) {
	if p.options.Balloons == NoBalloons && len(p.scene.Notes) == 0 {
		return
	}
	pen := newPen(img, p.width, p.height)
	labels := p.labels(pen)
	for _, l := range labels {
		pen.leader(l)
	}
	for _, l := range labels {
		pen.balloon(l.to.x, l.to.y, l.text, inkColour)
	}
	p.notes(pen)
}

// leader draws a leader with a dot on the surface, as ISO 128-2 ends it within an outline. A pale rim
// keeps it readable over dark places.
func (p *pen) leader(l label) {
	p.lineTo(l.to, l.at, 0.3*p.size, color.NRGBA{255, 255, 255, 170})
	p.lineTo(l.to, l.at, 0.085*p.size, inkColour)
	p.pill(l.at.x, l.at.y, 0.55*p.size, 0.55*p.size, paperColour)
	p.pill(l.at.x, l.at.y, 0.4*p.size, 0.4*p.size, inkColour)
}

// balloon draws text in a circle or pill.
func (p *pen) balloon(x, y float64, text string, c color.NRGBA) {
	w, h, rim := p.balloonWidth(text), p.balloonHeight(), 0.1*p.size
	p.pill(x, y, w, h, c)
	p.pill(x, y, w-2*rim, h-2*rim, paperColour)
	p.text(x, y, text, c)
}

// labels chooses what is labelled and lays the balloons in a column on each side, in such an order that no leaders cross
// (boundary labelling after Bekos, Kaufmann, Symvonis and Wolff, 2007). Leaders stay in their
// half of the picture. Items that nothing shows of get none; where there is not room for all, a mark is
// shown once, and then the items nearest to the viewer come first.
func (p *painting) labels(pen *pen) []label {
	pitch := 1.25 * pen.balloonHeight()
	room := p.room()
	most := 2 * max(1, int((float64(p.height)-room.top-room.bottom)/pitch))
	all := p.visibleLabels(pen)
	if len(all) > most && p.options.Balloons == MarkBalloons {
		all = firstOfEach(all)
	}
	all = all[:min(len(all), most)]
	left, right := p.split(all, most/2)
	side := func(ls []label, x func(l label) float64, r bool) {
		spreadOut(ls, room.top, float64(p.height)-room.bottom, pitch)
		for i := range ls {
			ls[i].to.x, ls[i].right = x(ls[i]), r
		}
		uncross(ls)
	}
	edge := 0.4 * pen.size
	side(left, func(l label) float64 { return edge + l.width/2 }, false)
	side(right, func(l label) float64 { return float64(p.width) - edge - l.width/2 }, true)
	return append(left, right...)
}

// firstOfEach keeps the first label of each text.
func firstOfEach(all []label) []label {
	seen := make(map[string]bool)
	var out []label
	for _, l := range all {
		if !seen[l.text] {
			seen[l.text] = true
			out = append(out, l)
		}
	}
	return out
}

// visibleLabels returns a label for each item that shows, front to back.
func (p *painting) visibleLabels(pen *pen) []label {
	var out []label
	var taken []point
	for _, i := range p.order {
		it := p.scene.Items[i]
		text := p.labelText(it)
		if text == "" {
			continue
		}
		if at, ok := p.anchor(i, taken); ok {
			taken = append(taken, at)
			out = append(out, label{text: text, at: at, width: pen.balloonWidth(text)})
		}
	}
	return out
}

// anchor returns the best place for a leader to end on an item: visible, not in the picture's middle, not at the item's end,
// not near another anchor.
func (p *painting) anchor(i int, taken []point) (best point, ok bool) {
	it := p.scene.Items[i]
	b := p.models[it.Shape].box
	size, middle := b.Size(), b.Centre()
	w := float64(p.width)
	most := math.Inf(-1)
	for k := 1; k <= 15; k++ {
		f := float64(k) / 16
		for _, side := range [8]geom.Vec2{{X: 0.5, Y: 0.35}, {X: 0.5, Y: -0.35}, {X: -0.5, Y: 0.35}, {X: -0.5, Y: -0.35}, {X: 0.35, Y: 0.5}, {X: -0.35, Y: 0.5}, {X: 0.35, Y: -0.5}, {X: -0.35, Y: -0.5}} {
			q := geom.Vec{X: middle.X + side.X*size.X, Y: middle.Y + side.Y*size.Y, Z: b.Low.Z + f*size.Z}
			x, y, depth := p.camera.project(it.Place.Apply(q))
			if !p.shows(x, y, depth) || !p.clear(x, y, depth) {
				continue
			}
			score := 0.9*math.Abs(x-w/2)/w - 0.5*math.Abs(f-0.5)
			for _, t := range taken {
				score -= 0.6 * math.Max(0, 1-math.Hypot(x-t.x, y-t.y)/(0.08*w))
			}
			if score > most {
				most, best, ok = score, point{x, y}, true
			}
		}
	}
	return best, ok
}

// shows reports whether the surface at a pixel is the one at that depth.
func (p *painting) shows(x, y, depth float64) bool {
	px, py := int(math.Floor(x)), int(math.Floor(y))
	if px < 0 || py < 0 || px >= p.width || py >= p.height {
		return false
	}
	return math.Abs(float64(p.depth[py*p.width+px])-depth) < 1.5/p.camera.pixelsPerMM(depth)
}

// clear reports whether nothing stands before the surface for some pixels round a place, so that a dot there can't be taken
// for a dot on something else.
func (p *painting) clear(x, y, depth float64) bool {
	const reach = 5
	limit := float32(depth - 2*reach/p.camera.pixelsPerMM(depth))
	for _, d := range [8][2]int{{reach, 0}, {-reach, 0}, {0, reach}, {0, -reach}, {reach, reach}, {-reach, reach}, {reach, -reach}, {-reach, -reach}} {
		px, py := int(x)+d[0], int(y)+d[1]
		if px < 0 || py < 0 || px >= p.width || py >= p.height || p.depth[py*p.width+px] < limit {
			return false
		}
	}
	return true
}

// split sends each label to the side of the picture where its leader ends, and the ones nearest to the middle to
// the other side where one side is full.
func (p *painting) split(all []label, most int) (left, right []label) {
	sorted := append([]label(nil), all...)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].at.x < sorted[j].at.x })
	n := sort.Search(len(sorted), func(i int) bool { return sorted[i].at.x >= float64(p.width)/2 })
	n = max(min(n, most), len(sorted)-most)
	return sorted[:n:n], sorted[n:]
}

// spreadOut sets the heights of a column of balloons: each as near to its leader's end as the distance between them
// allows (pools of touching ones share their mean shift, as in isotonic regression).
func spreadOut(ls []label, top, bottom, pitch float64) {
	sort.SliceStable(ls, func(i, j int) bool { return ls[i].at.y < ls[j].at.y })
	type pool struct {
		first, n int
		want     float64 // sum of the wanted heights of the first
	}
	var pools []pool
	for i, l := range ls {
		pools = append(pools, pool{i, 1, l.at.y})
		for len(pools) > 1 {
			a, b := pools[len(pools)-2], pools[len(pools)-1]
			if a.want/float64(a.n)+float64(a.n)*pitch <= b.want/float64(b.n) {
				break
			}
			pools = append(pools[:len(pools)-2], pool{a.first, a.n + b.n, a.want + b.want - float64(b.n*a.n)*pitch})
		}
	}
	for _, q := range pools {
		for k := range q.n {
			ls[q.first+k].to.y = q.want/float64(q.n) + float64(k)*pitch
		}
	}
	for i := range ls {
		ls[i].to.y = math.Max(ls[i].to.y, top+float64(i)*pitch)
	}
	for i := range ls {
		ls[i].to.y = math.Min(ls[i].to.y, bottom-float64(len(ls)-1-i)*pitch)
	}
}

// uncross swaps the balloons of crossing leaders until none cross. Every swap makes the leaders shorter together,
// so that it ends; the count is a stop against rounding.
func uncross(ls []label) {
	for range len(ls) * len(ls) {
		swapped := false
		for i := range ls {
			for j := i + 1; j < len(ls); j++ {
				if cross(ls[i], ls[j]) {
					ls[i].to.y, ls[j].to.y = ls[j].to.y, ls[i].to.y
					swapped = true
				}
			}
		}
		if !swapped {
			return
		}
	}
}

// cross reports whether the leaders of two labels cross.
func cross(a, b label) bool {
	turn := func(p, q, r point) float64 { return (q.x-p.x)*(r.y-p.y) - (q.y-p.y)*(r.x-p.x) }
	return turn(a.to, a.at, b.to)*turn(a.to, a.at, b.at) < 0 && turn(b.to, b.at, a.to)*turn(b.to, b.at, a.at) < 0
}

// notes draws the scene's notes: a balloon that stands off from its place, ink where the place shows and grey where it lies behind.
func (p *painting) notes(pen *pen) {
	for _, n := range p.scene.Notes {
		x, y, depth := p.camera.project(n.At)
		fx, fy, _ := p.camera.project(n.At.Add(n.Out))
		dx, dy := fx-x, fy-y
		l := math.Hypot(dx, dy)
		k := p.camera.pixelsPerMM(depth)
		if l < 0.05*k {
			continue // points straight at the viewer or away
		}
		visible := p.shows(x, y, depth)
		from := point{x, y}
		if !visible {
			from = p.rim(from, dx/l, dy/l)
		}
		stand := 2.6*pen.size + pen.balloonWidth(n.Text)/2*math.Abs(dx/l)
		to := point{from.x + dx/l*stand, from.y + dy/l*stand}
		c := inkColour
		if !visible {
			c = faintColour
		}
		pen.lineTo(from, to, 0.1*pen.size, c)
		if visible {
			pen.pill(x, y, 0.4*pen.size, 0.4*pen.size, c)
		}
		pen.balloon(to.x, to.y, n.Text, c)
	}
}

// rim returns the place where a line from a hidden point leaves the surfaces that hide it for good: slots on
// the way don't count.
func (p *painting) rim(from point, dx, dy float64) point {
	at, last := from, from
	for range (p.width + p.height) / 8 {
		px, py := int(math.Floor(at.x)), int(math.Floor(at.y))
		if px < 0 || py < 0 || px >= p.width || py >= p.height {
			break
		}
		if p.cover[py*p.width+px] != 0 {
			last = at
		}
		at = point{at.x + dx, at.y + dy}
	}
	return last
}
