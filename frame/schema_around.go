package frame

// aroundBlocks describes the blocks about what the frame stands on, carries, is made from and passes through.
func aroundBlocks() []blockSpec {
	return []blockSpec{
		{name: "support", meaning: "where the frame is held, when it has no feet", attrs: []attrSpec{
			{name: "on", kind: aRef, required: true, meaning: "the member"},
			{name: "at", kind: aPlaces, required: true, meaning: "places from its low end"},
			{name: "fixed", kind: aTexts, def: `["x", "y", "z"]`, meaning: "shifts that it holds"},
			{name: "clamped", kind: aFlag, def: "false", meaning: "holds the turns too"},
		}},
		{name: "group", label: nameLabel, meaning: "members that are built as one, or move as one", attrs: []attrSpec{
			{name: "members", kind: aRefs, required: true, meaning: "members and sets"},
			{name: "travel", kind: aObject, def: "none", meaning: "`{ along = \"z\", from = -150, to = 500 }`: its way from where it is drawn"},
			{name: "kg", kind: aNumber, def: "0", meaning: "what rides on it"},
			{name: "carried_by", kind: aRefs, def: "none", meaning: "members that bear a travelling group"},
		}},
		{name: "mass", label: ownLabel, meaning: "a mass on a member", attrs: []attrSpec{
			{name: "kg", kind: aNumber, required: true, meaning: "how much"},
			{name: "on", kind: aRef, required: true, meaning: "the member"},
			{name: "at", kind: aNumber, def: "the middle of the member", meaning: "place from its low end"},
			{name: "spread", kind: aNumbers, meaning: "in place of `at`: from one place to another"},
			{name: "path", kind: aNumbers, meaning: "in place of `at`: it travels between two places"},
			{name: "offset", kind: aNumbers, def: "[0, 0, 0]", meaning: "of its centre from the bar's axis, along X, Y, Z of the frame"},
		}},
		{name: "panel", label: ownLabel, meaning: "a sheet held in slots, or screwed on", attrs: []attrSpec{
			{name: "held_by", kind: aRefs, required: true, meaning: "a ring, or three or four bars round it"},
			{name: "thickness", kind: aNumber, required: true, meaning: "of the sheet"},
			{name: "material", kind: aText, def: "none", meaning: "of the sheet"},
			{name: "engagement", kind: aNumber, def: "computed", meaning: "depth in the slot"},
			{name: "clearance", kind: aNumber, def: "computed", meaning: "left free in the slot on each side"},
			{name: "screwed", kind: aFlag, def: "false", meaning: "screwed on the outside instead of held in slots"},
		}},
		{name: "doorway", label: ownLabel, meaning: "an opening or a corridor that the frame must pass", attrs: []attrSpec{
			{name: "width", kind: aNumber, meaning: "clear width of an opening"},
			{name: "height", kind: aNumber, required: true, meaning: "clear height"},
			{name: "corridor", kind: aNumbers, meaning: "in place of `width`: clear widths before and after a corner"},
		}},
		{name: "stock", label: ownLabel, meaning: "bars of one profile to be had", attrs: []attrSpec{
			{name: "bar", kind: aObjects, meaning: "`[{ length = 6000, price = 41.50, quantity = 3 }]`; without quantity as many as needed"},
			{name: "offcut", kind: aNumbers, def: "none", meaning: "lengths on hand"},
			{name: "kerf", kind: aNumber, def: "3", meaning: "width of the saw cut"},
			{name: "trim", kind: aNumber, def: "0", meaning: "taken off every bar, both ends together"},
			{name: "keep", kind: aNumber, def: "0", meaning: "shortest leftover worth keeping"},
		}},
		{name: "supplier", label: ownLabel, meaning: "what somebody asks for bars of one profile cut to length, to compare with `stock`", attrs: []attrSpec{
			{name: "per_metre", kind: aNumber, required: true, meaning: "price of a metre ordered"},
			{name: "per_cut", kind: aNumber, def: "0", meaning: "price of cutting one bar to length"},
			{name: "per_tap", kind: aNumber, def: "0", meaning: "price of one tapped core bore"},
			{name: "per_hole", kind: aNumber, def: "0", meaning: "price of one cross hole"},
			{name: "longest", kind: aNumber, def: "no limit", meaning: "longest bar that is cut and sent"},
		}},
		{name: "assembly", once: true, meaning: "what the builder says of the order of building", attrs: []attrSpec{
			{name: "order", kind: aRefs, def: "found by the program", meaning: "members, sets and groups in the order in which they go in; each entry goes in as one, what is not named follows"},
			{name: "lift", kind: aNumber, def: "15", meaning: "kg that one person lifts"},
			{name: "nuts", kind: aText, def: `"slide-in"`, meaning: "slot nuts: `\"slide-in\"` from a slot's end, or `\"drop-in\"` from its front"},
		}},
		limitSpec(),
		{name: "title_block", once: true, meaning: "fields of the drawings' title block", attrs: []attrSpec{
			{name: "owner", kind: aText, def: "none", meaning: "legal owner"},
			{name: "creator", kind: aText, def: "none", meaning: "who drew it"},
			{name: "approver", kind: aText, def: "none", meaning: "who approved it"},
			{name: "date", kind: aText, def: "none", meaning: "date of issue"},
			{name: "document_type", kind: aText, def: "given by the sheet", meaning: "kind of document"},
			{name: "language", kind: aText, def: `"en"`, meaning: "language code"},
			{name: "department", kind: aText, def: "none", meaning: "who is responsible"},
		}},
	}
}

func limitSpec() blockSpec {
	return blockSpec{name: "limit", once: true, meaning: "how much the frame may give, and what it must bear beside its weight; `barwright stiffness` and every check report what is not kept", attrs: []attrSpec{
		{name: "sag", kind: aNumber, def: "no limit", meaning: "largest shift of any place in any load case, mm"},
		{name: "frequency", kind: aNumber, def: "no limit", meaning: "lowest natural frequency, Hz"},
		{name: "racking", kind: aNumber, def: "no limit", meaning: "least stiffness against a push at the top, N/mm"},
		{name: "stress", kind: aNumber, def: "no limit", meaning: "largest share of the yield strength: 0.5 is half"},
		{name: "accelerate", kind: aNumbers, def: "[0, 0, 0]", meaning: "acceleration of what travels, in g along X, Y, Z: a load case of its own"},
		{name: "warm", kind: aNumber, def: "0", meaning: "degrees by which all bars get warmer than on the day of building: a load case of its own"},
	}}
}
