package frame

import "github.com/hashicorp/hcl/v2"

// jointRule is one joint block: it chooses the joining of every contact that it fits. The
// last rule in the file that fits wins.
type jointRule struct {
	between [2][]*Member // a contact between one of each; both nil where on is used
	on      []*Member    // a contact of any of these
	with    *Joining
	origin  hcl.Range
}
