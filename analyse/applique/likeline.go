package applique

// likeLine is what it says of a reading under satin that its line is made as lines of other
// pieces are, or as their tack-downs: a tack-down whose line was lost is the only one.
func (m *manner) likeLine(c *chain, o *option) (e evidence) {
	made := c.lineMade()
	asTack := o.tack == nil && !c.follows && m.tacks[made] > 0
	if made != single && (m.lines[made] > 0 || asTack) {
		e += styleLine
	}
	if asTack && m.tacksIn(c.line.Stop) {
		e += styleAsTack
	}
	return e
}

// tacksIn reports whether a stop tacks down other pieces, whose lines come before.
func (m *manner) tacksIn(stop int) bool {
	for at, n := range m.stops {
		if n > 0 && at[1] == stop && at[0] < stop {
			return true
		}
	}
	return false
}
