package frame

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// readParams reads the params with their settings. It returns a *SetError for the first setting that does not fit.
func (l *loader) readParams(settings []string) error {
	given, err := splitSettings(settings)
	if err != nil {
		return err
	}
	var names []string
	for _, b := range l.blocks {
		if b.spec.name != "param" {
			continue
		}
		names = append(names, b.name)
		if err := l.readParam(b, given); err != nil {
			return err
		}
	}
	for _, s := range given {
		if indexOf(names, s.name) < 0 {
			remedy := didYouMean(s.name, names)
			if e := l.names[s.name]; e != nil {
				remedy = fmt.Sprintf("It is a %s; only a param can be set.", e.kind)
			}
			return &SetError{Setting: s.text, Problem: fmt.Sprintf("there is no param %q.", shorten(s.name)), Remedy: remedy}
		}
	}
	return nil
}

// setting is one --set.
type setting struct {
	text, name string
	value      float64
}

// splitSettings takes name=value apart. The last of a name holds.
func splitSettings(settings []string) ([]setting, error) {
	var out []setting
	for _, text := range settings {
		name, number, ok := strings.Cut(text, "=")
		name, number = strings.TrimSpace(name), strings.TrimSpace(number)
		if !ok || name == "" {
			return nil, &SetError{Setting: text, Problem: "this is not name=value.", Remedy: "Write --set width=900."}
		}
		v, err := strconv.ParseFloat(number, 64)
		if err != nil || math.IsNaN(v) || strings.ContainsAny(number, "xXpP_") {
			return nil, &SetError{Setting: text, Problem: fmt.Sprintf("%q is not a number.", shorten(number)), Remedy: "Write a plain number, with a decimal point and no unit."}
		}
		if math.Abs(v) > maxSize {
			return nil, &SetError{Setting: text, Problem: "the number is out of all bounds.", Remedy: "Sizes go up to 1000000 mm."}
		}
		out = append(out, setting{text, name, v})
	}
	return out, nil
}

// readParam reads one param block.
func (l *loader) readParam(b *block, given []setting) error {
	p := Param{Name: b.name, Origin: b.header}
	e := l.names[b.name]
	if e == nil || e.block != b {
		e = &entity{} // the name is taken, which was reported
	}
	e.cell = &cell{name: b.name, at: b.header, state: cellDone}
	value, ok := l.literal(b, "value")
	low, ok1 := l.literal(b, "min")
	high, ok2 := l.literal(b, "max")
	note, ok3 := b.str("note", "")
	if !ok || !ok1 || !ok2 || !ok3 || !b.has("value") {
		return nil
	}
	p.Value, p.Note = value, note
	if b.has("min") {
		p.Min = &low
	}
	if b.has("max") {
		p.Max = &high
	}
	if p.Min != nil && p.Max != nil && low > high {
		l.fail(b.at("max"), fmt.Sprintf("max %s is less than min %s", show(high), show(low)), "")
		return nil
	}
	if side, limit := p.outside(value); side != "" {
		l.fail(b.at("value"), fmt.Sprintf("%s = %s is %s %s", b.name, show(value), side, show(limit)), "The value must lie within min and max.")
		return nil
	}
	for i := len(given) - 1; i >= 0; i-- {
		if given[i].name != b.name {
			continue
		}
		p.Value = given[i].value
		if side, limit := p.outside(p.Value); side != "" {
			return &SetError{Setting: given[i].text, Problem: fmt.Sprintf("%s is %s %s.", show(p.Value), side, show(limit)), Remedy: p.limits()}
		}
		l.f.Settings = append(l.f.Settings, Setting{Name: b.name, Value: p.Value})
		break
	}
	e.cell.ok, e.cell.value = true, p.Value
	l.f.Params = append(l.f.Params, p)
	return nil
}

// outside says on which side a value lies outside of the limits, and which.
func (p *Param) outside(v float64) (string, float64) {
	if p.Min != nil && v < *p.Min {
		return "below the least value allowed,", *p.Min
	}
	if p.Max != nil && v > *p.Max {
		return "above the largest value allowed,", *p.Max
	}
	return "", 0
}

// limits says what the limits are.
func (p *Param) limits() string {
	switch {
	case p.Min != nil && p.Max != nil:
		return fmt.Sprintf("%s goes from %s to %s.", p.Name, show(*p.Min), show(*p.Max))
	case p.Min != nil:
		return fmt.Sprintf("%s is %s at least.", p.Name, show(*p.Min))
	}
	return fmt.Sprintf("%s is %s at most.", p.Name, show(*p.Max))
}

// literal returns an attribute of a param: a number that refers to nothing, as a setting replaces it.
func (l *loader) literal(b *block, name string) (float64, bool) {
	e := b.expr(name)
	if e == nil {
		return 0, true
	}
	if refs := e.Variables(); len(refs) > 0 {
		l.fail(refs[0].SourceRange(), "A param can't refer to anything", fmt.Sprintf("It is a number that --set replaces. For a computed value write let %q { value = … }.", b.name))
		return 0, false
	}
	return l.number(e)
}

// declareLet prepares a let.
func (l *loader) declareLet(e *entity) {
	b := e.block
	e.cell = computed(b.name, b.at("value"), func() (float64, bool) {
		if !b.has("value") {
			return 0, false
		}
		return b.num("value", 0)
	})
}

// readFrame reads the frame block.
func (l *loader) readFrame() {
	f := l.f
	f.Title, f.Units, f.Projection = f.Name, "mm", "first"
	b := l.frameBlock
	if b == nil {
		return
	}
	if v, ok := b.num("floor", 0); ok {
		f.Floor, f.FloorGiven = snap(v), b.has("floor")
	}
	f.Title, _ = b.str("title", f.Title)
	f.Reference, _ = b.str("reference", "")
	f.Revision, _ = b.str("revision", "")
	f.Units, _ = b.choice("units", "mm", "mm", "inch")
	f.Projection, _ = b.choice("projection", "first", "first", "third")
}

// only returns the one block of a kind, or nil.
func (l *loader) only(kind string) *block {
	for _, b := range l.blocks {
		if b.spec.name == kind {
			return b
		}
	}
	return nil
}

// each calls f for every block of a kind, in the order of the file.
func (l *loader) each(kind string, f func(b *block)) {
	for _, b := range l.blocks {
		if b.spec.name == kind {
			f(b)
		}
	}
}

// readTitleBlock reads the title_block block.
func (l *loader) readTitleBlock() {
	b := l.only("title_block")
	if b == nil {
		return
	}
	t := &l.f.TitleBlock
	for _, field := range []struct {
		name string
		into *string
	}{
		{"owner", &t.Owner}, {"creator", &t.Creator}, {"approver", &t.Approver}, {"date", &t.Date},
		{"document_type", &t.DocumentType}, {"language", &t.Language}, {"department", &t.Department},
	} {
		*field.into, _ = b.str(field.name, "")
	}
}
