package share

// stand takes down that the bench is alone, or with held that its entries stay here
// though those of others come, and why. The first of several failures says since when.
func (c *Carrier) stand(err error, held bool) {
	if err == nil {
		return
	}
	now, why := c.now(), err.Error()
	changed := why != c.state.why
	if c.state.since.IsZero() {
		c.state.since = now
	}
	c.state.tries++
	c.state.why = why
	if c.Beacon != nil {
		c.Beacon.Alone(c.state.since, why)
	}
	if changed && c.Tell != nil {
		c.Tell(News{At: c.state.since, Why: err, Alone: !held, Held: held})
	}
}

// shared takes down that nothing is left to be carried. That is told the first time, and
// after the bench was alone.
func (c *Carrier) shared() {
	now, tell := c.now(), !c.met || !c.state.since.IsZero()
	first := !c.met
	c.state, c.met = standing{}, true
	if c.Beacon != nil {
		c.Beacon.Shared(now)
	}
	if tell && c.Tell != nil {
		c.Tell(News{At: now, First: first})
	}
}

// tellCounts tells what was carried since it was last told.
func (s *session) tellCounts() {
	if s.sent+s.collected > 0 && s.Tell != nil {
		s.Tell(News{At: s.now(), Sent: s.sent, Collected: s.collected})
	}
	s.sent, s.collected = 0, 0
}
