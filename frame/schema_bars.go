package frame

// barBlocks describes the blocks that say what bars there are and where.
func barBlocks() []blockSpec {
	return []blockSpec{
		{name: "param", label: nameLabel, meaning: "a number that `--set name=value` replaces", attrs: []attrSpec{
			{name: "value", kind: aNumber, required: true, meaning: "the number; a literal or a formula of literals"},
			{name: "min", kind: aNumber, def: "none", meaning: "smallest value allowed"},
			{name: "max", kind: aNumber, def: "none", meaning: "largest value allowed"},
			{name: "note", kind: aText, def: "none", meaning: "what it is"},
		}},
		{name: "let", label: nameLabel, meaning: "a computed number with a name", attrs: []attrSpec{
			{name: "value", kind: aNumber, required: true, meaning: "any formula"},
		}},
		frameSpec(),
		profileSpec(),
		{name: "member", label: nameLabel, meaning: "one bar: a box with named faces", attrs: concat(faceAttrs(), []attrSpec{
			{name: "length", kind: aNumber, meaning: "length of the bar, in place of one of its two end faces"},
			{name: "along", kind: aText, def: "the axis with two faces", meaning: "`\"x\"`, `\"y\"` or `\"z\"`: the way the bar runs"},
		}, barAttrs())},
		{name: "posts", label: nameLabel, meaning: "four uprights at the corners of a rectangle: `front_left`, `front_right`, `back_left`, `back_right`", attrs: concat([]attrSpec{
			{name: "left", kind: aNumber, required: true, meaning: "outer face on the left"},
			{name: "right", kind: aNumber, required: true, meaning: "outer face on the right"},
			{name: "front", kind: aNumber, required: true, meaning: "outer face at the front"},
			{name: "back", kind: aNumber, required: true, meaning: "outer face at the back"},
			{name: "bottom", kind: aNumber, required: true, meaning: "lower ends"},
			{name: "top", kind: aNumber, required: true, meaning: "upper ends"},
			{name: "tops", kind: aObject, def: "`top`", meaning: "upper ends of single posts: `{ back_left = 1150 }`"},
			{name: "bottoms", kind: aObject, def: "`bottom`", meaning: "lower ends of single posts"},
		}, barAttrs())},
		{name: "ring", label: nameLabel, meaning: "four rails in one plane", attrs: concat([]attrSpec{
			{name: "plane", kind: aText, def: `"xy"`, meaning: "`\"xy\"`, `\"xz\"` or `\"yz\"`"},
			{name: "within", kind: aSetRef, def: "none", meaning: "posts that the rails stand between, in place of the four outside faces"},
			{name: "corners", kind: aCorners, def: `"x-through" (first axis of the plane); with within every corner is a "post"`, meaning: "`\"x-through\"`, `\"y-through\"`, `\"z-through\"`, `\"pinwheel\"`, or corner by corner: `{ front_left = \"post\" }`"},
			{name: "hand", kind: aText, def: "the usual hand", meaning: "`\"reverse\"` turns a pinwheel the other way"},
			{name: "flush", kind: aText, def: "rails on the posts' slot centre line", meaning: "`\"outside\"` or `\"inside\"`: rails flush with that face of the posts"},
		}, faceAttrs(), barAttrs())},
		{name: "row", label: nameLabel, meaning: "equal bars at equal spacing: a member without its place on one axis, and the spacing there", attrs: concat(faceAttrs(), []attrSpec{
			{name: "length", kind: aNumber, meaning: "length of each bar, in place of one of its two end faces"},
			{name: "along", kind: aText, def: "the axis with two faces", meaning: "the way the bars run"},
			{name: "count", kind: aCount, required: true, meaning: "how many bars, 1 to 2000"},
			{name: "first", kind: aObject, meaning: "place of the first bar: `{ mid_x = 120 }`"},
			{name: "last", kind: aObject, meaning: "place of the last bar"},
			{name: "step", kind: aNumber, meaning: "centre to centre; with `first` or `last`"},
			{name: "between", kind: aNumbers, meaning: "two faces: equal clear gaps between them and the bars"},
		}, barAttrs())},
		braceSpec(),
	}
}

func frameSpec() blockSpec {
	return blockSpec{name: "frame", once: true, meaning: "title and defaults", attrs: []attrSpec{
		{name: "title", kind: aText, def: "the file's name", meaning: "what the frame is"},
		{name: "reference", kind: aText, def: "none", meaning: "the design's own number"},
		{name: "revision", kind: aText, def: "none", meaning: "state of the design"},
		{name: "profile", kind: aText, def: "none", meaning: "section of every bar that names none"},
		{name: "joining", kind: aText, def: `"end-screw"`, meaning: "joining of every joint that names none"},
		{name: "joining_else", kind: aText, def: `"angle-bracket"`, meaning: "joining of contacts that the first does not fit"},
		{name: "floor", kind: aNumber, def: "0; under printed pads", meaning: "height of the floor"},
		{name: "units", kind: aText, def: `"mm"`, meaning: "`\"mm\"` or `\"inch\"`: what drawings show; the file is always in mm"},
		{name: "projection", kind: aText, def: `"first"`, meaning: "`\"first\"` or `\"third\"` angle"},
		{name: "allow", kind: aTexts, def: "[]", meaning: "rules whose findings the whole frame lets be: `[\"lift\"]`"},
		{name: "reason", kind: aText, def: "none", meaning: "why; must be given with `allow`"},
	}}
}

func profileSpec() blockSpec {
	return blockSpec{name: "profile", label: ownLabel, meaning: "a slotted section of one's own; it may take the place of a built-in one", attrs: []attrSpec{
		{name: "cells", kind: aNumbers, def: "[1, 1]", meaning: "pitches wide and high"},
		{name: "pitch", kind: aNumber, required: true, meaning: "side of one cell"},
		{name: "corner_radius", kind: aNumber, def: "1.5", meaning: "outside corners"},
		{name: "closed", kind: aTexts, def: "[]", meaning: "sides without slot openings: `left`, `right`, `top`, `bottom`"},
		{name: "alloy", kind: aText, def: `"EN AW-6060 T66"`, meaning: "material"},
	}, blocks: []blockSpec{
		{name: "slot", once: true, meaning: "the slot in each open side", attrs: []attrSpec{
			{name: "opening", kind: aNumber, required: true, meaning: "width between the lips"},
			{name: "lip", kind: aNumber, required: true, meaning: "thickness of the lips"},
			{name: "cavity", kind: aNumber, required: true, meaning: "widest place behind the lips"},
			{name: "depth", kind: aNumber, required: true, meaning: "outside face to slot floor"},
			{name: "chamfer", kind: aNumber, def: "0", meaning: "45° at the floor of the cavity"},
		}},
		{name: "core", once: true, meaning: "the bore in the middle of each cell", attrs: []attrSpec{
			{name: "bore", kind: aNumber, required: true, meaning: "diameter"},
			{name: "thread", kind: aText, def: "the standard thread that the bore takes", meaning: "what is tapped into it: `\"M8\"`"},
		}},
	}}
}

func braceSpec() blockSpec {
	return blockSpec{name: "brace", label: nameLabel, meaning: "a diagonal between two members, its ends mitred to their faces", attrs: concat([]attrSpec{
		{name: "from", kind: aObject, required: true, meaning: "`{ on = MEMBER, at = 700 }`: where its axis meets that member's axis, from the low end"},
		{name: "to", kind: aObject, required: true, meaning: "the same at the other end"},
		{name: "angle", kind: aNumber, meaning: "in place of one `at`: degrees between the brace and that member, over 0 and under 90"},
	}, barAttrs())}
}
