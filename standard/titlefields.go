package standard

import "slices"

// TitleField is one data field of a title block (ISO 7200). Scale, projection
// symbol, tolerances, material and mass are no fields of it; they stand beside
// the block.
type TitleField struct {
	// Name is the field as the standard calls it, such as "date of issue".
	Name string
	// Characters is the recommended length, 0 where it is not limited. The
	// supplementary title's 50 are two lines of 25.
	Characters int
	// Mandatory fields must be filled in.
	Mandatory bool
	Source    Source
}

var titleFields = table("title_fields.csv", func(r record) TitleField {
	return TitleField{
		Name:       r.text("field"),
		Characters: int(r.float("characters")),
		Mandatory:  r.text("duty") == "mandatory",
		Source:     r.source(),
	}
})

// TitleFields returns the data fields of ISO 7200 in its order.
func TitleFields() []TitleField { return slices.Clone(titleFields()) }
