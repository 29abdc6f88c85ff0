package standard

// Source says where a figure comes from and how far it can be trusted.
type Source struct {
	// Text names the standard or handbook, with edition and table where known.
	Text string
	// Checked is true where the figure agrees with an independent text or was
	// recomputed from first principles, false where it is recalled only. A
	// finding that rests on an unchecked figure should warn at most.
	Checked bool
}
