package standard

import "math"

// SteelDensity is the density of steel hardware in kg/mm³, as the mass tables
// of the fastener standards take it (7.85 kg/dm³).
const SteelDensity = 7.85e-6

// cylinder returns the volume in mm³ of a cylinder.
func cylinder(diameter, height float64) float64 {
	return math.Pi / 4 * diameter * diameter * height
}

// hexagon returns the area in mm² of a hexagon with the given width across flats.
func hexagon(acrossFlats float64) float64 {
	return math.Sqrt(3) / 2 * acrossFlats * acrossFlats
}

// Mass estimates the mass in kg of a steel screw of the given nominal length
// in mm: the head without its socket, the thread as a cylinder of the pitch
// diameter, and above [Screw.ThreadLength] a plain shank. Sizes are the largest
// allowed, so it errs on the heavy side: by up to a tenth of the masses printed
// for ISO 4762. It is 0 for an unknown thread.
func (s Screw) Mass(length float64) float64 {
	t, ok := ThreadByName(s.Thread)
	if !ok || !(length > 0) {
		return 0
	}
	if s.Standard == "ISO 10642" {
		// The length of a countersunk screw is over all.
		length = math.Max(0, length-s.HeadHeight)
	}
	threaded := length
	if s.ThreadLength > 0 {
		threaded = math.Min(length, s.ThreadLength)
	}
	shank := cylinder(t.PitchDiameter, threaded) + cylinder(t.Nominal, length-threaded)
	return SteelDensity * (s.headVolume(t) - s.socketVolume() + shank)
}

// socketVolume returns the volume in mm³ of the socket, down to the floor
// where that is known, else of the least depth.
func (s Screw) socketVolume() float64 {
	if s.Floor > 0 {
		return hexagon(s.Key) * (s.HeadHeight - s.Floor)
	}
	return hexagon(s.Key) * s.SocketDepth
}

// headVolume returns the volume in mm³ of the head as if it had no socket.
func (s Screw) headVolume(t Thread) float64 {
	k, r := s.HeadHeight, s.HeadDiameter/2
	switch s.Standard {
	case "ISO 7380-1": // a spherical cap
		return math.Pi / 6 * k * (3*r*r + k*k)
	case "ISO 10642": // a cone cut off at the thread
		n := t.Nominal / 2
		return math.Pi / 3 * k * (r*r + r*n + n*n)
	}
	return cylinder(s.HeadDiameter, k)
}

// Mass estimates the mass in kg of a steel nut: the prism of the hexagon less
// a bore of the pitch diameter. The chamfers make the real nut a few per cent
// lighter. It is 0 for an unknown thread.
func (n Nut) Mass() float64 {
	t, ok := ThreadByName(n.Thread)
	if !ok {
		return 0
	}
	height := (n.Height + n.HeightMin) / 2
	return SteelDensity * (hexagon(n.AcrossFlats)*height - cylinder(t.PitchDiameter, height))
}

// Mass returns the mass in kg of a steel washer of nominal size.
func (w PlainWasher) Mass() float64 {
	return SteelDensity * (cylinder(w.Outer, w.Thickness) - cylinder(w.Inner, w.Thickness))
}
