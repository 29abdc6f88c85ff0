package frame

// attrKind is what an attribute holds.
type attrKind string

// The kinds of attributes, in the words of LANGUAGE.md.
const (
	aNumber  attrKind = "number"
	aCount   attrKind = "whole number"
	aText    attrKind = "text"
	aFlag    attrKind = "true or false"
	aNumbers attrKind = "list of numbers"
	aPlaces  attrKind = "number or list of numbers"
	aTexts   attrKind = "list of texts"
	aRef     attrKind = "member"
	aRefs    attrKind = "members"
	aSetRef  attrKind = "posts"
	aObject  attrKind = "object"
	aObjects attrKind = "list of objects"
	aCorners attrKind = "text or object"
)

// attrSpec describes one attribute of a block.
type attrSpec struct {
	name     string
	kind     attrKind
	required bool
	def      string // what holds where it is not given
	meaning  string
}

// labelSpec says what the label of a block is.
type labelSpec int

const (
	noLabel   labelSpec = iota
	nameLabel           // a name of the one namespace of things that can be referred to
	ownLabel            // a name among blocks of its kind, any text
)

// blockSpec describes one kind of block.
type blockSpec struct {
	name    string
	label   labelSpec
	once    bool // at most one in the file, or in its parent
	meaning string
	attrs   []attrSpec
	blocks  []blockSpec
}

// attr returns the description of an attribute, or nil.
func (s *blockSpec) attr(name string) *attrSpec {
	for i := range s.attrs {
		if s.attrs[i].name == name {
			return &s.attrs[i]
		}
	}
	return nil
}

// block returns the description of an inner block, or nil.
func (s *blockSpec) block(name string) *blockSpec {
	for i := range s.blocks {
		if s.blocks[i].name == name {
			return &s.blocks[i]
		}
	}
	return nil
}

// attrNames returns the names of the attributes in the order of the table.
func (s *blockSpec) attrNames() []string {
	var out []string
	for _, a := range s.attrs {
		out = append(out, a.name)
	}
	return out
}

// blockNames returns the names of the inner blocks in the order of the table.
func (s *blockSpec) blockNames() []string {
	var out []string
	for _, b := range s.blocks {
		out = append(out, b.name)
	}
	return out
}

// faceAttrs are the attributes that place a bar, axis by axis.
func faceAttrs() []attrSpec {
	return []attrSpec{
		{name: "left", kind: aNumber, meaning: "low face on X"},
		{name: "right", kind: aNumber, meaning: "high face on X"},
		{name: "mid_x", kind: aNumber, meaning: "middle on X"},
		{name: "front", kind: aNumber, meaning: "low face on Y"},
		{name: "back", kind: aNumber, meaning: "high face on Y"},
		{name: "mid_y", kind: aNumber, meaning: "middle on Y"},
		{name: "bottom", kind: aNumber, meaning: "low face on Z"},
		{name: "top", kind: aNumber, meaning: "high face on Z"},
		{name: "mid_z", kind: aNumber, meaning: "middle on Z"},
	}
}

// barAttrs are the attributes that every block of bars takes.
func barAttrs() []attrSpec {
	return []attrSpec{
		{name: "profile", kind: aText, def: "the frame's", meaning: "name of the section"},
		{name: "turn", kind: aNumber, def: "0", meaning: "quarter turn of the section: 0, 90, 180 or 270, counter-clockwise seen from the high end (for a bar along Y from the front)"},
		{name: "joining", kind: aText, def: "the frame's", meaning: "joining of every joint of these bars"},
		{name: "allow", kind: aTexts, def: "[]", meaning: "rules whose findings about these bars are let be: `[\"loose-end\"]`"},
		{name: "reason", kind: aText, def: "none", meaning: "why; must be given with `allow`"},
		{name: "mark", kind: aText, def: "given by the program", meaning: "mark of the part"},
	}
}

// concat joins lists of attributes.
func concat(lists ...[]attrSpec) []attrSpec {
	var out []attrSpec
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}

// schema describes the whole frame file: its inner blocks are the blocks of the file. It is never written.
var schema = blockSpec{name: "file", blocks: concatBlocks(barBlocks(), jointBlocks(), bracketBlocks(), aroundBlocks())}

func concatBlocks(lists ...[]blockSpec) []blockSpec {
	var out []blockSpec
	for _, l := range lists {
		out = append(out, l...)
	}
	return out
}
