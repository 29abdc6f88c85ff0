package drawing

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"barwright/internal/outside"
)

// svgPixels is how many pixels stand for a millimetre where pictures of sheets are compared.
const svgPixels = 5

// readGray reads a PNG as grey values; what is transparent is paper.
func readGray(t *testing.T, path string) *image.Gray {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	r := img.Bounds()
	out := image.NewGray(image.Rect(0, 0, r.Dx(), r.Dy()))
	for y := range r.Dy() {
		for x := range r.Dx() {
			c := color.NRGBAModel.Convert(img.At(r.Min.X+x, r.Min.Y+y)).(color.NRGBA)
			ink := (255 - int(color.GrayModel.Convert(color.NRGBA{c.R, c.G, c.B, 255}).(color.Gray).Y)) * int(c.A) / 255
			out.SetGray(x, y, color.Gray{uint8(255 - ink)})
		}
	}
	return out
}

// missing returns how many dark pixels of a picture have no ink near them in another, and how many there are.
func missing(a, b *image.Gray) (gone, dark int) {
	r := a.Bounds()
	for y := range r.Dy() {
		for x := range r.Dx() {
			if a.GrayAt(x, y).Y > 100 {
				continue
			}
			dark++
			found := false
			for dy := -1; dy <= 1 && !found; dy++ {
				for dx := -1; dx <= 1 && !found; dx++ {
					found = image.Pt(x+dx, y+dy).In(b.Bounds()) && b.GrayAt(x+dx, y+dy).Y < 200
				}
			}
			if !found {
				gone++
			}
		}
	}
	return gone, dark
}

// drawWithBrowser draws an SVG file as a PNG with Chromium.
func drawWithBrowser(t *testing.T, browser, svg string, w, h int) string {
	t.Helper()
	page := svg + ".html"
	text := fmt.Sprintf(`<!doctype html><style>*{margin:0}img{display:block;width:%dpx;height:%dpx}</style><img src="%s">`, w, h, filepath.Base(svg))
	if err := os.WriteFile(page, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	out := svg + ".browser.png"
	cmd := exec.Command(browser, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--hide-scrollbars",
		"--user-data-dir="+t.TempDir(), "--allow-file-access-from-files", "--force-device-scale-factor=1",
		fmt.Sprintf("--window-size=%d,%d", w, h), "--screenshot="+out, "file://"+page)
	if said, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, said)
	}
	return out
}

// TestSVGDrawsTheSame: librsvg and Chromium, which share no code, draw the same picture of a sheet: of the dark pixels of each, all but
// one in a thousand have ink within a pixel in the other's.
func TestSVGDrawsTheSame(t *testing.T) {
	rsvg, browser := outside.Program(t, "rsvg-convert"), outside.Program(t, "chromium")
	f, scene := load(t, frameFile(t, "braced"))
	arrangement, exploded := sheetsOf(t, f, scene, Options{NotForManufacture: true})
	parts, err := PartSheets(workshopFrame(t), Options{})
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	for _, c := range []struct {
		sheet *Sheet
		paths bool
	}{{arrangement[0], true}, {exploded[0], true}, {parts[0], true}, {parts[3], true}, {parts[7], false}} {
		w, h := int(c.sheet.Size.Width*svgPixels), int(c.sheet.Size.Height*svgPixels)
		var b bytes.Buffer
		if err := WriteSVG(&b, c.sheet, c.paths); err != nil {
			t.Fatal(err)
		}
		svg := filepath.Join(dir, fmt.Sprint(c.sheet.Name, c.paths, ".svg"))
		if err := os.WriteFile(svg, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		runReader(t, rsvg, "-w", fmt.Sprint(w), "-h", fmt.Sprint(h), "-o", svg+".rsvg.png", svg)
		one, two := readGray(t, svg+".rsvg.png"), readGray(t, drawWithBrowser(t, browser, svg, w, h))
		if one.Bounds() != two.Bounds() {
			t.Errorf("%s: %v and %v", c.sheet.Name, one.Bounds(), two.Bounds())
			continue
		}
		for _, pair := range [2][2]*image.Gray{{one, two}, {two, one}} {
			gone, dark := missing(pair[0], pair[1])
			t.Logf("%s, text as paths %v: %d of %d dark pixels differ", c.sheet.Name, c.paths, gone, dark)
			// librsvg reads no embedded fonts: where the machine has not the sheet's own, the letters of another stand in
			// the same places, and that is a tenth of the ink.
			if most := map[bool]int{true: 1000, false: 7}[c.paths]; dark < 20000 || gone*most > dark {
				t.Errorf("%s: %d of %d dark pixels differ", c.sheet.Name, gone, dark)
			}
		}
	}
}
