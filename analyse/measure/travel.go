package measure

import (
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// Travelling measures what the needle does between stitches: travel with the
// needle up, threads left loose over the cloth, and thread ends without lock
// stitches.
var Travelling = &Step{
	Name:     "travel",
	Doc:      "needle-up travel, loose threads, missing ties",
	Requires: []*Step{Sizes},
	Run:      findTravel,
}

// Loose is a thread that lies on the cloth between two sewn parts, neither
// sewn down nor cut.
type Loose struct {
	From, To geom.Point
	Length   float64
	Unsure   bool // whether it is cut depends on the machine's setting
}

// travelWork is what Travelling leaves for the rules, by stop.
type travelWork struct {
	Loose  [][]Loose
	Untied [][]geom.Point
}

func findTravel(p *Pass) {
	r, t := p.Report, &p.Sewn.Track
	w := &p.Travel
	w.Loose, w.Untied = make([][]Loose, len(r.Stops)), make([][]geom.Point, len(r.Stops))
	for k, s := range t.Segs {
		p.watch.Step(1)
		stop := &r.Stops[s.Stop]
		if k > 0 && t.Segs[k-1].Stop == s.Stop {
			from, to := t.Pts[t.Segs[k-1].Last-1], t.Pts[s.First]
			l := geom.Distance(from, to)
			stop.NeedleUpMM += l
			if !s.Starts || s.Unsure {
				w.Loose[s.Stop] = append(w.Loose[s.Stop], Loose{from, to, l, s.Unsure})
			}
		}
		if s.Last-s.First < 2 {
			continue
		}
		if s.Starts && !locked(t, s.First, s.Last, 1, p) {
			w.Untied[s.Stop] = append(w.Untied[s.Stop], t.Pts[s.First])
		}
		if s.Ends && !locked(t, s.Last-1, s.First-1, -1, p) {
			w.Untied[s.Stop] = append(w.Untied[s.Stop], t.Pts[s.Last-1])
		}
	}
	for i := range r.Stops {
		r.NeedleUpMM += r.Stops[i].NeedleUpMM
	}
}

// locked reports whether a thread that begins at point i has lock stitches, or
// at least a stitch no longer than the limit among its first three.
func locked(t *stitches.Track, i, end, step int, p *Pass) bool {
	limit := p.Settings.Limit("no-tie")
	for n := 0; n < 3 && i+step != end; n++ {
		if t.Kind[i] == report.KindTie || geom.Distance(t.Pts[i], t.Pts[i+step]) <= limit*p.Scale {
			return true
		}
		i += step
	}
	return false
}
