package geom

import "sync"

// SectionCache remembers the solved sections of profiles, so that each is solved once. The zero cache is
// ready, and may be used by several goroutines.
type SectionCache struct {
	mu   sync.Mutex
	done map[Profile]solved
}

type solved struct {
	section Section
	torsion Torsion
	err     error
}

// Of returns the properties of a profile, which must pass [Profile.Validate], and its [Profile.Torsion].
// Profiles that differ only in name, thread or alloy share one solution.
func (c *SectionCache) Of(p *Profile) (Section, Torsion, error) {
	key := *p
	key.Name, key.Thread, key.Alloy = "", "", ""
	c.mu.Lock()
	defer c.mu.Unlock()
	s, ok := c.done[key]
	if !ok {
		s.section = p.Properties()
		s.torsion, s.err = p.Torsion()
		if c.done == nil {
			c.done = map[Profile]solved{}
		}
		c.done[key] = s
	}
	return s.section, s.torsion, s.err
}
