package frame

// jointBlocks describes the blocks that say how bars are joined and machined.
func jointBlocks() []blockSpec {
	return []blockSpec{
		{name: "joint", meaning: "the joining of some joints; the last block that fits wins", attrs: []attrSpec{
			{name: "between", kind: aRefs, meaning: "two of member, set or group: joints between one and the other"},
			{name: "on", kind: aRefs, meaning: "every joint of these members; in place of `between`"},
			{name: "with", kind: aText, required: true, meaning: "name of the joining"},
			{name: "allow", kind: aTexts, def: "[]", meaning: "rules whose findings about these joints are let be: `[\"key-blocked\"]`"},
			{name: "reason", kind: aText, def: "none", meaning: "why; must be given with `allow`"},
		}},
		{name: "joining", label: ownLabel, meaning: "a joining of one's own, or a built-in one changed", attrs: []attrSpec{
			{name: "base", kind: aText, def: "the built-in one of this name", meaning: "`\"end-screw\"`, `\"through-screw\"`, `\"angle-bracket\"`, `\"plate\"`, `\"printed-angle\"`, `\"printed-plate\"`, `\"printed-corner\"` or `\"none\"`"},
			{name: "thread", kind: aText, def: "the base's", meaning: "thread of the screw"},
			{name: "tap_depth", kind: aNumber, def: "the base's", meaning: "full thread in the tapped end"},
			{name: "access", kind: aNumber, def: "the base's", meaning: "diameter of the access hole"},
			{name: "key", kind: aNumber, def: "the base's", meaning: "hex key across flats"},
			{name: "screw_length", kind: aNumber, def: "the base's", meaning: "under the head"},
			{name: "screws", kind: aCount, def: "the base's", meaning: "bracket or plate: screws on each bar"},
		}},
		{name: "drill", label: ownLabel, meaning: "a hole that no joint asks for", attrs: []attrSpec{
			{name: "on", kind: aRefs, required: true, meaning: "the members"},
			{name: "face", kind: aText, required: true, meaning: "side of the bar that the drill enters, as the frame stands: `\"front\"`, `\"top\"` …"},
			{name: "from", kind: aText, required: true, meaning: "end that `distance` counts from: `\"left\"`, `\"bottom\"` …"},
			{name: "distance", kind: aNumber, required: true, meaning: "from that end to the hole's middle"},
			{name: "offset", kind: aNumber, def: "0", meaning: "from the middle of the face, growing to the right, the back or the top of the frame"},
			{name: "diameter", kind: aNumber, def: "the tap drill", meaning: "of the hole; not with `tap`"},
			{name: "tap", kind: aText, def: "none", meaning: "thread of a tapped hole: `\"M6\"`"},
			{name: "depth", kind: aNumber, meaning: "from the outside face; of the full thread where tapped"},
			{name: "through", kind: aFlag, def: "true without `depth`", meaning: "through the whole bar"},
			{name: "counterbore", kind: aObject, def: "none", meaning: "`{ diameter = 15, depth = 9 }`"},
		}},
		{name: "foot", meaning: "feet that stand on the floor", attrs: []attrSpec{
			{name: "under", kind: aRefs, required: true, meaning: "posts (a stud in the tapped lower end) or rails"},
			{name: "at", kind: aPlaces, meaning: "under rails: places from the rail's low end"},
			{name: "on", kind: aText, def: `"post-end" under uprights, "slot-plate" under rails`, meaning: "what carries the foot"},
			{name: "thread", kind: aText, def: "the core's", meaning: "of the stud"},
			{name: "height", kind: aNumber, def: "follows from the floor", meaning: "from the floor to the bar; checked where given"},
		}},
	}
}
