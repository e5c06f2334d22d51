package applique

import "slices"

// oneEdge takes back pieces whose line only goes along the edge of another piece once
// more, under the same cover: a tack-down in several stops, or the underlay of the cover.
func (p *finder) oneEdge() {
	p.work = slices.DeleteFunc(p.work, func(k *Piece) bool {
		if k.Hole {
			return false
		}
		for _, v := range p.work {
			switch {
			case v == k || v.Hole:
			case !k.PreCut:
				switch {
				case !p.tackedAgain(v, k):
				case v.Tack.Stop < k.Place.Stop:
					v.Again = append(v.Again, k.Place)
					return true
				default:
					c := v.Place.chain
					*v = *p.piece(c, c.likeliest())
					return true
				}
			// The same line sewn once more is no second piece.
			case v.PreCut && v.Place.Stop == k.Place.Stop && v.Place.first < k.Place.first && slices.Equal(v.Covers, k.Covers) && p.sameLine(v.Place, k.Place):
				return true
			case v.Held && v.Tack.Stop < k.Place.Stop && len(v.Covers) > 0 && k.Place.Stop < v.Covers[0] && slices.Contains(v.Covers, k.Covers[0]) &&
				BoxesAlike(v.Tack.Box, k.Place.Box, 2*FollowWithin) && p.follow(v.Tack, k.Place, FollowWithin):
				v.Again = append(v.Again, k.Place)
				return true
			}
		}
		return false
	})
}

// tackedAgain reports whether the line of a piece with a tack-down is the tack-down of
// another, or a line over that: it goes all along the line of that, and one cover goes over
// both. A line after the tack-down may be for a second cloth, unless only the stop of the
// cover would hold that.
func (p *finder) tackedAgain(v, k *Piece) bool {
	c := v.Place.chain
	return c != nil && len(v.Cover) > 0 && slices.Equal(v.Cover, k.Cover) && v.Place.Stop < k.Place.Stop && (k.Place.Stop <= v.Tack.Stop || k.TackCover && k.Place.Stop < v.Covers[0]) &&
		slices.ContainsFunc(c.rounds, func(r *round) bool { return r.share >= wholeShare && slices.Contains(r.traces, k.Place) }) && p.follow(v.Place, k.Place, FollowWithin)
}

// likeliest is the reading of a chain that is likeliest by itself, an index into its options.
func (c *chain) likeliest() int8 {
	best := 0
	for k := range c.options {
		if o, b := &c.options[k], &c.options[best]; o.score+o.fit > b.score+b.fit {
			best = k
		}
	}
	return int8(best)
}
