package drawing

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"regexp"
	"strings"

	"barwright/assembly"
	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// Sizes of the pictures of the HTML guide in mm.
const (
	htmlWidth  = 170.0
	htmlHeight = 105.0
	htmlUnit   = 80.0 // height of a picture of a step that builds a unit
)

// htmlStyle is the look of the page: black on white, large enough to touch, and steps that do not break over printed pages.
const htmlStyle = `body{font:17px/1.45 "Liberation Sans",Arial,Helvetica,sans-serif;color:#000;background:#fff;max-width:60rem;margin:0 auto;padding:1rem}
h1{font-size:1.9rem;margin:.2rem 0}h2{font-size:1.35rem;border-top:2px solid #000;padding-top:.6rem;margin-top:2rem}
section{break-inside:avoid;margin-bottom:1.6rem}section.unit{margin-left:1.5rem}h3{font-size:1.2rem;margin:.6rem 0}
svg{width:100%;height:auto;max-height:80vh;display:block}ul{list-style:none;padding:0;margin:.4rem 0}
label{display:flex;gap:.7rem;padding:.25rem 0}input{flex:none;width:1.3rem;height:1.3rem;margin-top:.15rem}
.caution{border:2px solid #000;padding:.5rem .8rem;margin:.5rem 0}table{border-collapse:collapse;margin:.5rem 0}
td,th{border:1px solid #000;padding:.25rem .6rem;text-align:left}footer{margin-top:2rem;font-size:.85rem}
@media print{body{font-size:11pt;max-width:none;padding:0}h2{break-before:page}}
`

// htmlGuide writes the page.
type htmlGuide struct {
	*guide
	body bytes.Buffer
	all  Sheet // every text that a picture letters, for the outlines of the letters
	box  int   // boxes so far
}

// WriteGuideHTML writes the assembly guide as one HTML page that needs nothing besides: pictures are inline SVG, letters in them
// outlines, boxes can be ticked on a tablet, and it prints. It returns an error as [GuideSheets] does.
func WriteGuideHTML(w io.Writer, f *frame.Frame, scene *mesh.Scene, plan *assembly.Plan, o Options) error {
	g, err := newGuide(f, scene, plan, o)
	if err != nil {
		return err
	}
	h := &htmlGuide{guide: g}
	h.front()
	h.print("<h2>Steps</h2>\n")
	h.steps(plan.Steps, "")
	if l := plan.Locked; l != nil {
		h.print("<h2>The frame can't be put together</h2>\n<p>%s</p>\n", strings.ReplaceAll(esc(l.Error()), "\n", "<br>"))
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>Assembly guide: %s</title>\n<style>\n%s</style>\n</head>\n<body>\n", esc(g.title()), htmlStyle)
	v := svgWriter{paths: true}
	v.letters(&h.all)
	out.WriteString("<svg xmlns=\"http://www.w3.org/2000/svg\" style=\"display:none\" aria-hidden=\"true\">\n")
	out.Write(plainLinks(v.Bytes()))
	out.WriteString("</svg>\n")
	out.Write(h.body.Bytes())
	fmt.Fprintf(&out, "<footer>Input %s. This guide is an aid and no risk assessment; local rules come first.</footer>\n</body>\n</html>\n", esc(f.Fingerprint))
	_, err = w.Write(out.Bytes())
	return err
}

func esc(s string) string { return html.EscapeString(s) }

func (h *htmlGuide) print(format string, args ...any) { fmt.Fprintf(&h.body, format, args...) }

// xlink is the old name of links in SVG, which an HTML page does not need.
var xlink = regexp.MustCompile(`xlink:href`)

func plainLinks(svg []byte) []byte { return xlink.ReplaceAll(svg, []byte("href")) }

// picture writes what a function draws on a sheet of its own.
func (h *htmlGuide) picture(width, height float64, alt string, draw func(area Area)) {
	h.page = &Sheet{Size: Size{"", width, height}}
	draw(Area{High: geom.Vec2{X: width, Y: height}})
	v := svgWriter{height: height, paths: true}
	for _, op := range h.page.Ops {
		switch op := op.(type) {
		case *Stroke:
			v.stroke(op)
		case *Arc:
			v.arc(op)
		case *Text:
			v.text(op)
			h.all.Add(op)
		}
	}
	v.group("")
	h.print("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-label=\"%s\" viewBox=\"0 0 %s %s\">\n", esc(alt), svgNumber(width), svgNumber(height))
	h.body.Write(plainLinks(v.Bytes()))
	h.print("</svg>\n")
}

// ticks writes lines to tick off.
func (h *htmlGuide) ticks(lines []string) {
	if len(lines) == 0 {
		return
	}
	h.print("<ul>\n")
	for _, t := range lines {
		h.box++
		h.print("<li><label><input type=\"checkbox\" id=\"b%d\"><span>%s</span></label></li>\n", h.box, esc(Clean(t)))
	}
	h.print("</ul>\n")
}

func (h *htmlGuide) cautions(list []string) {
	for _, t := range list {
		h.print("<p class=\"caution\"><strong>CAUTION:</strong> %s</p>\n", esc(Clean(t)))
	}
}

// tableOf writes a list as a table.
func (h *htmlGuide) tableOf(l list) {
	h.print("<table>\n<tr>")
	for _, c := range l.columns {
		h.print("<th>%s</th>", esc(c.head))
	}
	h.print("</tr>\n")
	for _, r := range l.rows {
		h.print("<tr>")
		for _, c := range r {
			h.print("<td>%s</td>", esc(Clean(c)))
		}
		h.print("</tr>\n")
	}
	h.print("</table>\n")
}

// front writes the cover and what to lay out.
func (h *htmlGuide) front() {
	f := h.f
	h.print("<h1>%s</h1>\n<p>Assembly guide</p>\n", esc(Clean(h.title())))
	p := h.finished()
	h.picture(htmlWidth, 130, "The finished frame", func(a Area) { h.drawShot(&p, a, len(f.Members) <= mostBalloons) })
	h.print("<p>%s</p>\n<p>%s</p>\n", esc(h.sizes()), esc(h.lifting()))
	h.print("<h2>Before you start</h2>\n<h3>Tools</h3>\n")
	h.ticks(h.tools())
	h.print("<h3>How to read this guide</h3>\n")
	for _, t := range h.howToRead() {
		h.print("<p>%s</p>\n", esc(t))
	}
	h.cautions(h.coverCautions())
	h.print("<h3>Bars: lay out, measure and check each</h3>\n<p>%s</p>\n", esc(checkBars))
	h.tableOf(h.barCheck())
	if len(f.Hardware) > 0 {
		h.print("<h3>Hardware, with spares</h3>\n")
		h.tableOf(h.hardwareCheck())
	}
	for _, w := range h.plan.Warnings {
		h.print("<p class=\"caution\"><strong>NOTE:</strong> %s</p>\n", esc(w))
	}
}

// steps writes the steps, those that build a unit before the unit goes in.
func (h *htmlGuide) steps(list []*assembly.Step, in string) {
	for _, s := range list {
		number := fmt.Sprintf("%s%d", in, s.Number)
		if len(s.Build) > 0 {
			h.print("<h3>For step %s, on the table: the %s</h3>\n", number, esc(s.Unit))
			h.steps(s.Build, number+".")
		}
		class, height := "step", htmlHeight
		if in != "" {
			class, height = "step unit", htmlUnit
		}
		h.print("<section class=\"%s\" id=\"step-%s\">\n<h3>Step %s: %s</h3>\n", class, number, number, esc(Clean(s.Headline())))
		b := h.layout(s, number, in)
		b.takeUnder = false // it stands under the picture
		if !b.plain {
			h.picture(htmlWidth, height, "Picture of step "+number, func(a Area) { h.drawStep(&b, a) })
		}
		if n := len(b.details); n > 0 {
			h.picture(htmlWidth, float64((n+4)/5)*(2*detailRadius+detailText+3), "What is loaded into which slot", func(a Area) {
				for i, d := range b.details {
					x := detailRadius + 2 + float64(i%5)*(2*detailRadius+7)
					h.drawDetail(d, geom.Vec2{X: x, Y: a.High.Y - detailRadius - 1 - float64(i/5)*(2*detailRadius+detailText+3)})
				}
			})
		}
		if len(b.take) > 0 {
			h.print("<p><strong>Take</strong></p>\n")
			h.ticks(h.take(s))
			h.print("<p><strong>Do</strong></p>\n")
		}
		h.ticks(s.Text)
		h.cautions(s.Cautions)
		h.print("</section>\n")
		h.done(s)
	}
}
