package job

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"barwright/frame"
	"barwright/geom"
)

// Starter is the sizes from which a first frame file is written, mm.
type Starter struct {
	Width, Depth, Height float64
	Profile              string
	Title                string
}

// starterText is the starter file: four posts on feet, a ring between them near the
// floor, one on top. %s are title and profile, %g the sizes.
const starterText = `# X left to right, Y front to back, Z up; millimetres. The floor is z = 0.
param "width"  { value = %[3]s }
param "depth"  { value = %[4]s }
param "height" { value = %[5]s }

frame {
  title   = "%[1]s"
  profile = "%[2]s" # generic sizes: measure your bars and write a profile block if they differ
  joining = "end-screw"
}

# Four posts: leg.front_left, leg.front_right, leg.back_left, leg.back_right.
posts "leg" {
  left   = 0
  right  = width
  front  = 0
  back   = depth
  bottom = 40 # room for the feet
  top    = height
}

# Four rails between the posts, near the floor.
ring "base" {
  within = leg
  bottom = %[6]s
}

# Four rails between the posts, flush with their tops.
ring "crown" {
  within = leg
  top    = leg.top
}

foot {
  under  = leg
  thread = "%[7]s"
  height = 40
}
`

// Write writes the starter file frame.hcl into a folder and returns its path. It refuses to overwrite one, and sizes
// that the profile cannot make.
func (s Starter) Write(dir string) (string, error) {
	p, ok := geom.Builtin(s.Profile)
	if !ok {
		return "", &UsageError{fmt.Sprintf("there is no built-in profile %q; there are %s", s.Profile, strings.Join(geom.BuiltinNames(), ", "))}
	}
	size := p.Size()
	least := 4 * math.Max(size.X, size.Y)
	for _, v := range []struct {
		name string
		mm   float64
		min  float64
	}{{"--width", s.Width, least}, {"--depth", s.Depth, least}, {"--height", s.Height, least + 90}} {
		if !(v.mm >= v.min && v.mm <= maxStarter) {
			return "", &UsageError{fmt.Sprintf("%s is %g; with %s it must lie between %g and %g mm", v.name, v.mm, s.Profile, v.min, float64(maxStarter))}
		}
	}
	if strings.ContainsFunc(s.Title, func(r rune) bool { return r < ' ' || r == '"' || r == '\\' || r == '$' || r == '%' }) {
		return "", &UsageError{`--title must not hold quotes, backslashes, $, % or control characters`}
	}
	text := fmt.Sprintf(starterText, s.Title, s.Profile, Number(s.Width), Number(s.Depth), Number(s.Height), Number(90), p.Thread)
	path := filepath.Join(dir, "frame.hcl")
	if _, err := frame.Parse(path, []byte(text), frame.Options{}); err != nil {
		return "", err
	}
	if _, err := os.Lstat(path); err == nil {
		return "", &FileError{path, errors.New("is there already"), "Give another folder: barwright new DIR."}
	}
	return path, WriteFile(path, func(w io.Writer) error { _, err := io.WriteString(w, text); return err })
}

// maxStarter is the largest size of a starter frame, mm: the longest bars of the trade.
const maxStarter = 6000
