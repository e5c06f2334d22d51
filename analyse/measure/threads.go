package measure

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/spools"
	"github.com/stopcard/stopcard/analyse/words"
)

// Threads tells the stops that need no thread of their own, and picks for the others
// the nearest out of the thread box in Settings.
//
// The lines of placement and tack-down are covered, and those that hold cloth, batting
// and backing lie in the seam: their colours are there to make the machine wait, and
// any thread will do (common practice, no single source). Not so where a raw edge
// shows its tack-down, nor for the seams of work that is turned out: they hold it together
// when it is washed.
var Threads = &Step{
	Name:     "threads",
	Doc:      "which stops any thread will do for, and the nearest of one's own for the others",
	Requires: []*Step{Roles, DensityGrid},
	Run:      addThreads,
}

const (
	// pauseShare is the share of satin and fill in a stop from which it is
	// stitching to be seen, whatever lines it has besides.
	pauseShare = 0.1

	// besideCells is how far apart two colours are still seen side by side, in
	// cells of the density grid: 2 mm.
	besideCells = 2

	// mostNeeds bounds the colours that threads are picked for; no chart of threads
	// has as many.
	mostNeeds = 500
)

// pauseRoles are what a stop may do whose colour is not seen.
var pauseRoles = []string{report.RoleClothOutline, report.RoleClothHoldDown, report.RolePlacementLine, report.RoleTackDown,
	report.RoleBattingHoldDown, report.RoleBackingHoldDown}

func addThreads(p *Pass) {
	seam := p.firstSeam()
	for i := range p.Report.Stops {
		p.Report.Stops[i].AnyThread = i < seam && p.anyThread(i)
	}
	if len(p.Settings.Threads) > 0 {
		p.pickSpools()
	}
}

// firstSeam is the index of the stop that sews the back of work to be turned out, or that of
// work that may be; the number of stops where there is none.
func (p *Pass) firstSeam() int {
	first := len(p.Report.Stops)
	for i := range p.Recognised.Rehearsal.Steps {
		h := &p.Recognised.Rehearsal.Steps[i]
		if h.Kind == report.StepTurnOut || h.Manner == applique.OnFront || h.Manner == applique.OrEnvelope || h.Manner == applique.PerhapsEnvelope {
			first = min(first, h.Stop)
		}
	}
	return first
}

// anyThread reports whether the thread of stop i is never seen.
func (p *Pass) anyThread(i int) bool {
	s := &p.Report.Stops[i]
	if !slices.Contains(pauseRoles, s.Role) {
		return false
	}
	for _, part := range s.Parts {
		if !slices.Contains(pauseRoles, part.Role) {
			return false
		}
	}
	for _, k := range p.Report.Pieces {
		if k.CoverStop == 0 && k.TackDownStop == s.Number {
			return false
		}
	}
	var seen, all float64
	passages := p.Sewn.PassagesOf(i)
	for k := range passages {
		g := &passages[k]
		all += g.LengthMM
		if g.Kind == report.KindSatin || g.Kind == report.KindFill {
			seen += g.LengthMM
		}
	}
	return seen <= pauseShare*all
}

// pickSpools gives each stop the nearest thread of the box.
func (p *Pass) pickSpools() {
	box := p.Settings.Threads
	var needs []spools.Need
	of := make([]int, len(p.Report.Stops)) // need of each stop, -1 for none
	index := map[string]int{}
	for i := range p.Report.Stops {
		s := &p.Report.Stops[i]
		of[i] = -1
		if s.Colour == nil || s.AnyThread {
			continue
		}
		c, ok := words.ParseHex(*s.Colour)
		if !ok {
			continue
		}
		if _, known := index[*s.Colour]; !known && len(needs) == mostNeeds {
			continue
		} else if !known {
			index[*s.Colour] = len(needs)
			needs = append(needs, spools.Need{Colour: words.LabOf(c)})
		}
		of[i] = index[*s.Colour]
	}
	for _, b := range p.besides(of) {
		if words.CIEDE2000(needs[b[0]].Colour, needs[b[1]].Colour) > words.SameColour {
			needs[b[0]].Beside = append(needs[b[0]].Beside, b[1])
			needs[b[1]].Beside = append(needs[b[1]].Beside, b[0])
		}
	}
	chosen := spools.Choose(needs, box, p.Settings.ThreadWeight)
	for j, n := range of {
		if n < 0 || chosen[n].Thread < 0 {
			continue
		}
		c := &chosen[n]
		t := &box[c.Thread]
		p.Report.Stops[j].Spool = &report.Spool{Name: t.Name, Colour: t.Colour, Difference: c.Difference, Near: spools.Near(c.Difference), Shared: c.Shared}
	}
}

// besides lists the pairs of needs whose stitches lie side by side.
func (p *Pass) besides(of []int) [][2]int {
	g := p.Report.Density.Grid
	if g == nil {
		return nil
	}
	const most = 64 // colours told apart by a bit each; no machine has as many needles
	has := make([]uint64, g.NX*g.NY)
	var line []crossed
	for i, n := range of {
		if n < 0 || n >= most {
			continue
		}
		for _, s := range p.Sewn.Track.Of(i) {
			for k := s.First; k < s.Last; k++ {
				p.watch.Step(1)
				a, b := p.Sewn.Track.Pts[max(k-1, s.First)], p.Sewn.Track.Pts[k]
				line = cellsAlong(line[:0], g, a, b, placeOf(g, a), placeOf(g, b))
				for _, c := range line {
					has[c.cell] |= 1 << n
				}
			}
		}
	}
	var beside [most]uint64
	for y := range g.NY {
		for x := range g.NX {
			here := has[y*g.NX+x]
			if here == 0 {
				continue
			}
			p.watch.Step(1)
			var near uint64
			for yy := max(0, y-besideCells); yy <= min(g.NY-1, y+besideCells); yy++ {
				for xx := max(0, x-besideCells); xx <= min(g.NX-1, x+besideCells); xx++ {
					near |= has[yy*g.NX+xx]
				}
			}
			for n := range most {
				if here>>n&1 == 1 {
					beside[n] |= near
				}
			}
		}
	}
	var out [][2]int
	for a := range most {
		for b := range a {
			if beside[a]>>b&1 == 1 {
				out = append(out, [2]int{b, a})
			}
		}
	}
	return out
}
