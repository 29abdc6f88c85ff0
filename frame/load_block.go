package frame

import (
	"fmt"
	"sort"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// block is a block of the file whose attributes the schema knows.
type block struct {
	l         *loader
	spec      *blockSpec
	name      string // its label
	nameRange hcl.Range
	header    hcl.Range // its type and label
	attrs     map[string]*hclsyntax.Attribute
	inner     map[string]*block
	tried     map[string]bool // given in the wrong form, which was reported
	mark      *string         // the mark that it asks for, once read; "" where it is wrong
}

// readBlocks checks all blocks of the file against the schema and enters their names.
func (l *loader) readBlocks(body *hclsyntax.Body) {
	for _, a := range sortedAttributes(body) {
		l.fail(a.NameRange, fmt.Sprintf("%q stands outside of any block", shorten(a.Name)), l.strayRemedy(a))
	}
	first := map[string]*block{}
	for _, syn := range body.Blocks {
		spec := schema.block(syn.Type)
		if spec == nil {
			l.fail(syn.TypeRange, fmt.Sprintf("There is no block %q", shorten(syn.Type)), didYouMean(syn.Type, schema.blockNames()))
			continue
		}
		b := l.readBlock(syn, spec)
		l.blocks = append(l.blocks, b)
		l.checkUnique(b, first)
	}
}

// strayRemedy says where an attribute outside of any block may belong.
func (l *loader) strayRemedy(a *hclsyntax.Attribute) string {
	if schema.block(a.Name) != nil {
		return fmt.Sprintf("A block has no equals sign: %s { … }.", a.Name)
	}
	if schema.block("frame").attr(a.Name) != nil {
		return fmt.Sprintf("Write it inside the frame block: frame { %s = … }.", a.Name)
	}
	return fmt.Sprintf("A number with a name is written param %q { value = … }.", shorten(a.Name))
}

// checkUnique enters the block's name, or refuses a second one of its kind.
func (l *loader) checkUnique(b *block, first map[string]*block) {
	key := b.spec.name
	switch {
	case strings.HasPrefix(b.name, "\x00"):
		return // a name is missing, which was reported
	case b.spec.label == nameLabel:
		l.declareName(b)
		return
	case b.spec.label == ownLabel:
		key += "\x00" + b.name
	case !b.spec.once:
		return
	}
	old, ok := first[key]
	if !ok {
		first[key] = b
		return
	}
	what := fmt.Sprintf("A second %s block", b.spec.name)
	if b.spec.label == ownLabel {
		what = fmt.Sprintf("A second %s %q", b.spec.name, shorten(b.name))
	}
	l.fail(b.header, what, fmt.Sprintf("The first stands on line %d.", old.header.Start.Line))
}

// readBlock checks one block: its label, its attributes and its inner blocks.
func (l *loader) readBlock(syn *hclsyntax.Block, spec *blockSpec) *block {
	b := &block{l: l, spec: spec, header: syn.TypeRange, nameRange: syn.TypeRange,
		attrs: map[string]*hclsyntax.Attribute{}, inner: map[string]*block{}, tried: map[string]bool{}}
	b.readLabel(syn)
	for _, a := range sortedAttributes(syn.Body) {
		if spec.attr(a.Name) == nil {
			b.unknownAttribute(a)
			continue
		}
		b.attrs[a.Name] = a
	}
	for _, in := range syn.Body.Blocks {
		b.readInner(in)
	}
	for i := range spec.attrs {
		if s := &spec.attrs[i]; s.required && !b.has(s.name) && !b.tried[s.name] {
			l.fail(b.header, fmt.Sprintf("%s lacks %q", b, s.name), fmt.Sprintf("Add %s = … (%s).", s.name, s.meaning))
		}
	}
	return b
}

func (b *block) readLabel(syn *hclsyntax.Block) {
	want := 1
	if b.spec.label == noLabel {
		want = 0
	}
	if n := len(syn.Labels); n > 0 {
		b.name, b.nameRange = syn.Labels[0], syn.LabelRanges[0]
		b.header = hcl.RangeBetween(syn.TypeRange, syn.LabelRanges[0])
	}
	switch {
	case len(syn.Labels) < want:
		b.l.fail(syn.TypeRange, fmt.Sprintf("This %s has no name", syn.Type), fmt.Sprintf("Write %s \"name\" { … }.", syn.Type))
		b.name = fmt.Sprintf("\x00%d", syn.TypeRange.Start.Byte)
	case len(syn.Labels) > want:
		b.l.fail(syn.LabelRanges[want], fmt.Sprintf("This text behind %s is one too many", syn.Type),
			map[int]string{0: fmt.Sprintf("A %s block has no name: %s { … }.", syn.Type, syn.Type), 1: fmt.Sprintf("A %s has one name.", syn.Type)}[want])
	case want == 1 && b.spec.label == ownLabel && strings.TrimSpace(b.name) == "":
		b.l.fail(b.nameRange, fmt.Sprintf("This %s has an empty name", syn.Type), "")
	}
}

// readInner reads a block inside a block. An object attribute may be written as a block too.
func (b *block) readInner(in *hclsyntax.Block) {
	spec := b.spec.block(in.Type)
	if spec == nil {
		if a := b.spec.attr(in.Type); a != nil {
			b.l.fail(in.TypeRange, fmt.Sprintf("%q is an attribute", in.Type), fmt.Sprintf("It needs an equals sign: %s = …", in.Type))
			b.tried[in.Type] = true
			return
		}
		remedy := didYouMean(in.Type, append(b.spec.attrNames(), b.spec.blockNames()...))
		if schema.block(in.Type) != nil {
			remedy = fmt.Sprintf("A %s stands by itself. Is a closing brace } missing above?", in.Type)
		}
		b.l.fail(in.TypeRange, fmt.Sprintf("%s has no block %q", b, shorten(in.Type)), remedy)
		return
	}
	if b.inner[in.Type] != nil {
		b.l.fail(in.TypeRange, fmt.Sprintf("A second %s in %s", in.Type, b), fmt.Sprintf("The first stands on line %d.", b.inner[in.Type].header.Start.Line))
		return
	}
	b.inner[in.Type] = b.l.readBlock(in, spec)
}

func (b *block) unknownAttribute(a *hclsyntax.Attribute) {
	known := append(b.spec.attrNames(), b.spec.blockNames()...)
	if b.spec.block(a.Name) != nil {
		b.l.fail(a.NameRange, fmt.Sprintf("%q is a block", a.Name), fmt.Sprintf("It has no equals sign: %s { … }.", a.Name))
		b.tried[a.Name] = true
		return
	}
	remedy := didYouMean(a.Name, known)
	if b.spec.name == "mass" && a.Name == "travel" {
		remedy = "A mass that travels has path = [from, to]; travel is for groups."
	}
	b.l.fail(a.NameRange, fmt.Sprintf("%s has no attribute %q", b, shorten(a.Name)), remedy)
}

// String returns the block as a message calls it.
func (b *block) String() string {
	if b.spec.label == noLabel || strings.HasPrefix(b.name, "\x00") {
		return b.spec.name
	}
	return fmt.Sprintf("%s %q", b.spec.name, shorten(b.name))
}

// has reports whether an attribute is given.
func (b *block) has(name string) bool { return b.attrs[name] != nil }

// at returns the range of an attribute, or of the block's header where it is not given.
func (b *block) at(name string) hcl.Range {
	if a := b.attrs[name]; a != nil {
		return hcl.RangeBetween(a.NameRange, a.Expr.Range())
	}
	return b.header
}

// expr returns the expression of an attribute, or nil.
func (b *block) expr(name string) hclsyntax.Expression {
	if a := b.attrs[name]; a != nil {
		return a.Expr
	}
	return nil
}

// sortedAttributes returns the attributes of a body in the order of the file.
func sortedAttributes(body *hclsyntax.Body) []*hclsyntax.Attribute {
	out := make([]*hclsyntax.Attribute, 0, len(body.Attributes))
	for _, a := range body.Attributes {
		out = append(out, a)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].SrcRange.Start.Byte < out[j].SrcRange.Start.Byte })
	return out
}
