package applique

import (
	"context"
	"maps"
	"slices"
	"sort"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Said is what a person knows better than can be seen in the stitches. It is heeded
// before anything is worked out, so that whatever follows from it changes too. The
// zero value says nothing.
type Said struct {
	// Roles are those of colour stops by index.
	Roles map[int]string
	// Strike gives, by index, the pieces found that are none; nil for no such.
	// Its error ends the work.
	Strike func([]*Piece) ([]int, error)
}

// asNoted is the reason of a role that a person gave.
const asNoted = "as you noted"

// RecogniseWith is Recognise that heeds what a person said. Errors are those of said,
// and that of a context that ended.
func RecogniseWith(ctx context.Context, d *stitchfile.Design, said *Said) (*Recognised, error) {
	return recognise(ctx, d, said)
}

// mayBe reports whether a stop may have one of the roles: unless a person said that
// it has another.
func (s *Said) mayBe(stop int, roles ...string) bool {
	said, ok := s.role(stop)
	return !ok || slices.Contains(roles, said)
}

// is reports whether a person said that a stop has the role.
func (s *Said) is(stop int, role string) bool {
	said, ok := s.role(stop)
	return ok && said == role
}

func (s *Said) role(stop int) (string, bool) {
	if s == nil {
		return "", false
	}
	role, ok := s.Roles[stop]
	return role, ok
}

const (
	// saidLikely is what a person's word on a stop adds to each reading that agrees
	// with it, in log-odds: whoever speaks of placement lines has applique.
	saidLikely evidence = 2

	// saidSure is what it adds to the likeliest of them: one line of the stop is
	// what the person says, whatever all other evidence.
	saidSure evidence = 60
)

// heedRounds marks the stitching along lines that a person said is for something else.
func (p *finder) heedRounds() {
	if p.said == nil {
		return
	}
	for _, c := range p.chains {
		for _, r := range c.rounds {
			if r.stop == c.line.Stop && p.said.mayBe(r.stop, report.RolePlacementLine) {
				continue // called by its line
			}
			// A stop may do both, and is called by either.
			r.noTack = !p.said.mayBe(r.stop, report.RoleTackDown) && !(p.said.is(r.stop, report.RoleCoverSatin) && r.made.line())
			if p.said.is(r.stop, report.RoleCoverSatin) && r.made.line() && r.stop > c.line.Stop {
				r.made = motif // a line that is said to cover makes figures
			}
			r.noCover = !p.said.mayBe(r.stop, report.RoleCoverSatin) && !(p.said.is(r.stop, report.RoleTackDown) && r.made == satinMade)
		}
	}
}

// does lists what a reading has each stop do.
func (c *chain) does(o *option) map[int][]string {
	does := map[int][]string{c.line.Stop: {report.RolePlacementLine}}
	if o.tack != nil {
		does[o.tack.stop] = append(does[o.tack.stop], report.RoleTackDown)
	}
	for _, r := range o.cover {
		does[r.stop] = append(does[r.stop], report.RoleCoverSatin)
	}
	return does
}

// admits reports whether a reading goes with what a person said, and of how many stops
// it agrees. A stop that does several things may be called by any. A reading without a
// tack-down or a cover does not go with stops that are said to sew one along the line.
func (s *Said) admits(c *chain, o *option) (agrees int, ok bool) {
	if s == nil || len(s.Roles) == 0 {
		return 0, true
	}
	does := c.does(o)
	for stop, roles := range does {
		switch said, ok := s.role(stop); {
		case !ok:
		case slices.Contains(roles, said):
			agrees++
		default:
			return 0, false
		}
	}
	for _, r := range c.rounds {
		if r.share >= 0.5 && r.stop > c.line.Stop && len(does[r.stop]) == 0 &&
			(o.tack == nil && s.is(r.stop, report.RoleTackDown) || o.cover == nil && s.is(r.stop, report.RoleCoverSatin) && (o.tack == nil || r.stop >= o.tack.stop)) {
			return 0, false
		}
	}
	return agrees, true
}

// heedReadings makes sure of one reading for each stop that a person said is part of a
// piece: the likeliest that has it so.
func (p *finder) heedReadings() {
	if p.said == nil {
		return
	}
	type reading struct {
		c *chain
		o int
	}
	for _, stop := range slices.Sorted(maps.Keys(p.said.Roles)) {
		best := reading{}
		for _, c := range p.chains {
			for k := range c.options {
				o := &c.options[k]
				if slices.Contains(c.does(o)[stop], p.said.Roles[stop]) && (best.c == nil || o.score > best.c.options[best.o].score) {
					best = reading{c, k}
				}
			}
		}
		if best.c != nil && best.c.options[best.o].score < float64(saidSure) {
			best.c.options[best.o].score += float64(saidSure)
		}
	}
}

// layerRoles are the roles of lines round the block, with what they show or hold.
var layerRoles = map[string]layerLine{
	report.RoleClothOutline:    {what: report.BlockCloth},
	report.RoleClothHoldDown:   {what: report.BlockCloth, holds: true},
	report.RoleBattingHoldDown: {what: report.Batting, holds: true},
	report.RoleBackingHoldDown: {what: report.Backing, holds: true},
}

// saidLayers takes the longest line of each stop that a person said holds or shows a
// layer for the line that does.
func (w *roleWork) saidLayers() {
	p := w.p
	for stop := range p.roles {
		role, _ := p.said.role(stop)
		l, ok := layerRoles[role]
		if !ok {
			continue
		}
		for i := range p.traces {
			if t := &p.traces[i]; t.Stop == stop && (l.t == nil || isLine(t) && !isLine(l.t) || isLine(t) == isLine(l.t) && t.Length > l.t.Length) {
				l.t = t
			}
		}
		if l.t != nil {
			w.add(l.t, role, 1, 0, asNoted)
			p.layers = append(p.layers, l)
		}
	}
}

// orderLayers puts the lines round the block into sewing order.
func (p *finder) orderLayers() {
	if p.said != nil {
		sort.SliceStable(p.layers, func(i, j int) bool { return p.layers[i].t.Stop < p.layers[j].t.Stop })
		p.round = nil
		for _, l := range p.layers {
			p.round = append(p.round, l.t)
		}
	}
}

// strike takes back the pieces that are noted as none. The others keep their numbers,
// and with a piece go its holes.
func (p *finder) strike() error {
	if p.said == nil || p.said.Strike == nil {
		return nil
	}
	struck, err := p.said.Strike(p.work)
	if err != nil {
		return err
	}
	gone := map[*Piece]bool{}
	for _, i := range struck {
		gone[p.work[i]] = true
	}
	p.work = slices.DeleteFunc(p.work, func(k *Piece) bool { return gone[k] || gone[k.parent] })
	return nil
}

// heed gives stops the roles that a person said they have. What parts of a stop do
// stays where it is among them.
func (p *finder) heed() {
	if p.said == nil {
		return
	}
	for i := range p.roles {
		role, ok := p.said.role(i)
		if !ok {
			continue
		}
		s := &p.roles[i]
		s.Role, s.Confidence, s.Reason, s.Next = role, 1, asNoted, ""
		s.Parts = slices.DeleteFunc(s.Parts, func(k report.Part) bool { return k.Role != role })
		sort.SliceStable(s.Parts, func(i, j int) bool { return s.Parts[i].Piece < s.Parts[j].Piece })
		if len(s.Parts) < 2 {
			s.Parts = []report.Part{}
		}
	}
	for _, k := range p.work {
		if p.said.is(k.Place.Stop, report.RolePlacementLine) || p.said.is(k.Tack.Stop, report.RoleTackDown) {
			k.Confidence, k.Next = 1, ""
		}
	}
}
