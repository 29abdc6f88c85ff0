package mesh

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"barwright/geom"
)

// view is a direction to look from: azimuth from the front toward the right, elevation up from the floor, radians.
type view struct {
	azimuth, elevation float64
	near               bool // a perspective eye stands closer
}

// isometric is the elevation at which three axes at right angles look equally long.
var isometric = math.Atan(math.Sqrt(0.5))

// namedView is a view that a name stands for, in degrees.
type namedView struct {
	name               string
	azimuth, elevation float64
}

// namedViews returns the views by name.
func namedViews() []namedView {
	iso := isometric * 180 / math.Pi
	return []namedView{
		{"corner", 32, 22}, {"iso", 45, iso},
		{"front", 0, 0}, {"right", 90, 0}, {"back", 180, 0}, {"left", -90, 0}, {"top", 0, 90}, {"bottom", 0, -90},
		{"iso-front-right", 45, iso}, {"iso-front-left", -45, iso}, {"iso-back-right", 135, iso}, {"iso-back-left", -135, iso},
		{"part", -70, 24},
	}
}

// ViewNames returns the names of views, the default first.
func ViewNames() []string {
	var out []string
	for _, v := range namedViews() {
		out = append(out, v.name)
	}
	return out
}

// parseView reads the name of a view, or azimuth and elevation in degrees.
func parseView(s string) (view, error) {
	if s == "" {
		s = "corner"
	}
	for _, v := range namedViews() {
		if v.name == s {
			return view{v.azimuth * math.Pi / 180, v.elevation * math.Pi / 180, v.name == "part"}, nil
		}
	}
	a, e, ok := strings.Cut(s, ",")
	if !ok {
		return view{}, fmt.Errorf("no view is called %q; there are %s, or azimuth and elevation in degrees such as \"30,20\"", s, strings.Join(ViewNames(), ", "))
	}
	az, err1 := strconv.ParseFloat(strings.TrimSpace(a), 64)
	el, err2 := strconv.ParseFloat(strings.TrimSpace(e), 64)
	if err1 != nil || err2 != nil || !(math.Abs(az) <= 360) || !(math.Abs(el) <= 90) {
		return view{}, fmt.Errorf("view %q: azimuth must be -360 to 360 and elevation -90 to 90 degrees, such as \"30,20\"", s)
	}
	return view{azimuth: az * math.Pi / 180, elevation: el * math.Pi / 180}, nil
}

// camera maps the frame to the picture. Its axes are right, up and toward (the viewer).
type camera struct {
	right, up, toward geom.Vec
	middle            geom.Vec // the point that the camera looks at
	perspective       bool
	distance          float64 // from the eye to middle along the view, mm
	near, far         float64 // the depths that all points lie between, mm from the eye
	scale             float64 // pixels for a unit of the image plane; for a parallel view, for a mm
	shiftX, shiftY    float64 // pixels
}

// room is the border in pixels that is kept free on each side of the picture.
type room struct{ left, right, top, bottom, width, height float64 }

// spread is how far in radii of the scene a perspective eye stands away: far enough for an unforced look. From
// nearSpread the end of a long bar that is near shows large.
const (
	spread     = 3.4
	nearSpread = 2.1
)

// newCamera places the camera so that the scene fills the picture within the room.
func newCamera(v view, perspective bool, s *Scene, boxes []geom.Box, r room) camera {
	sa, ca := math.Sincos(v.azimuth)
	se, ce := math.Sincos(v.elevation)
	c := camera{
		right:       geom.Vec{X: ca, Y: sa},
		toward:      geom.Vec{X: sa * ce, Y: -ca * ce, Z: se},
		perspective: perspective, scale: 1,
	}
	c.up = c.toward.Cross(c.right)
	whole := s.Box()
	c.middle = whole.Centre()
	radius := math.Max(whole.Size().Len()/2, 1e-3)
	c.distance = spread * radius
	if v.near {
		c.distance = nearSpread * radius
	}
	c.near, c.far = c.distance-1.02*radius, c.distance+1.02*radius
	low, high := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, it := range s.Items {
		if boxes[it.Shape].Empty() {
			continue
		}
		for _, q := range boxes[it.Shape].Corners() {
			x, y, _ := c.project(it.Place.Apply(q))
			low = geom.Vec2{X: math.Min(low.X, x), Y: math.Min(low.Y, y)}
			high = geom.Vec2{X: math.Max(high.X, x), Y: math.Max(high.Y, y)}
		}
	}
	w, h := math.Max(high.X-low.X, 1e-6), math.Max(high.Y-low.Y, 1e-6)
	c.scale = math.Min((r.width-r.left-r.right)/w, (r.height-r.top-r.bottom)/h)
	c.shiftX = (r.left+r.width-r.right)/2 - c.scale*(low.X+high.X)/2
	c.shiftY = (r.top+r.height-r.bottom)/2 - c.scale*(low.Y+high.Y)/2
	return c
}

// project returns the place of a point in the picture, in pixels from the top left corner, and its distance in mm along the view.
func (c *camera) project(q geom.Vec) (x, y, depth float64) {
	d := q.Sub(c.middle)
	depth = c.distance - c.toward.Dot(d)
	x, y = c.right.Dot(d), -c.up.Dot(d)
	if c.perspective {
		f := c.distance / depth
		x, y = x*f, y*f
	}
	return c.scale*x + c.shiftX, c.scale*y + c.shiftY, depth
}

// ray returns the point and direction of the sight line through a place in the picture.
func (c *camera) ray(x, y float64) (from, along geom.Vec) {
	u, v := (x-c.shiftX)/c.scale, (y-c.shiftY)/c.scale
	on := c.middle.Add(c.right.Scale(u)).Sub(c.up.Scale(v))
	if !c.perspective {
		return on, c.toward.Scale(-1)
	}
	eye := c.middle.Add(c.toward.Scale(c.distance))
	return eye, on.Sub(eye).Unit()
}

// screenDepth maps a depth in mm to the depth buffer's 0 (near) to 1 (far), so that it is linear over the picture.
func (c *camera) screenDepth(depth float64) float64 {
	if c.perspective {
		return (1/c.near - 1/depth) / (1/c.near - 1/c.far)
	}
	return (depth - c.near) / (c.far - c.near)
}

// trueDepth undoes screenDepth.
func (c *camera) trueDepth(z float64) float64 {
	if c.perspective {
		return 1 / (1/c.near - z*(1/c.near-1/c.far))
	}
	return c.near + z*(c.far-c.near)
}

// pixelsPerMM returns the scale of the picture at a depth.
func (c *camera) pixelsPerMM(depth float64) float64 {
	if c.perspective {
		return c.scale * c.distance / depth
	}
	return c.scale
}

// mmPerPixel returns how many mm a pixel is wide at a depth.
func (c *camera) mmPerPixel(depth float64) float64 {
	if c.perspective {
		return depth / (c.scale * c.distance)
	}
	return 1 / c.scale
}

// pose is the camera's map for points of an item's own coordinates.
type pose struct {
	x, y, z       [3]float64 // rows: right, down, toward in item coordinates
	tx, ty, tz    float64
	camera        *camera
	upX, upY, upZ float64 // the frame's vertical in item coordinates
}

// poseOf joins the place of an item with the camera.
func (c *camera) poseOf(place geom.Motion) pose {
	row := func(d geom.Vec) [3]float64 { u := place.Unturn(d); return [3]float64{u.X, u.Y, u.Z} }
	t := place.T.Sub(c.middle)
	up := place.Unturn(geom.Vec{Z: 1})
	return pose{
		x: row(c.right), y: row(c.up.Scale(-1)), z: row(c.toward),
		tx: c.right.Dot(t), ty: -c.up.Dot(t), tz: c.toward.Dot(t),
		camera: c, upX: up.X, upY: up.Y, upZ: up.Z,
	}
}

// project returns picture place and depth-buffer value of a point in item coordinates.
func (p *pose) project(q [3]float32) (x, y, z float64) {
	v := [3]float64{float64(q[0]), float64(q[1]), float64(q[2])}
	c := p.camera
	depth := c.distance - (dot3(p.z, v) + p.tz)
	x, y = dot3(p.x, v)+p.tx, dot3(p.y, v)+p.ty
	if c.perspective {
		f := c.distance / depth
		x, y = x*f, y*f
	}
	return c.scale*x + c.shiftX, c.scale*y + c.shiftY, c.screenDepth(depth)
}
