package analyse

// Travelling measures what the needle does between stitches: travel with the
// needle up, threads left loose over the cloth, and thread ends without lock
// stitches.
var Travelling = &Analyser{
	Name:     "travel",
	Doc:      "needle-up travel, loose threads, missing ties",
	Requires: []*Analyser{Passages},
	Run:      findTravel,
}

// loose is a thread that lies on the cloth between two sewn parts, neither
// sewn down nor cut.
type loose struct {
	from, to Point
	length   float64
}

// travelWork is what Travelling leaves for the rules, by stop.
type travelWork struct {
	loose  [][]loose
	untied [][]Point
}

func findTravel(p *Pass) {
	r, t := p.Report, &p.track
	w := &p.travel
	w.loose, w.untied = make([][]loose, len(r.Stops)), make([][]Point, len(r.Stops))
	for k, s := range t.segs {
		stop := &r.Stops[s.stop]
		if k > 0 && t.segs[k-1].stop == s.stop {
			from, to := t.pts[t.segs[k-1].last-1], t.pts[s.first]
			l := distance(from, to)
			stop.NeedleUpMM += l
			if !s.starts {
				w.loose[s.stop] = append(w.loose[s.stop], loose{from, to, l})
			}
		}
		if s.last-s.first < 2 {
			continue
		}
		if s.starts && !locked(t, s.first, s.last, 1, p) {
			w.untied[s.stop] = append(w.untied[s.stop], t.pts[s.first])
		}
		if s.ends && !locked(t, s.last-1, s.first-1, -1, p) {
			w.untied[s.stop] = append(w.untied[s.stop], t.pts[s.last-1])
		}
	}
	for i := range r.Stops {
		r.NeedleUpMM += r.Stops[i].NeedleUpMM
	}
}

// locked reports whether a thread that begins at point i has lock stitches, or
// at least a stitch no longer than the limit among its first three.
func locked(t *track, i, end, step int, p *Pass) bool {
	limit := p.Settings.Limit("no-tie")
	for n := 0; n < 3 && i+step != end; n++ {
		if t.kind[i] == KindTie || distance(t.pts[i], t.pts[i+step]) <= limit*p.Scale {
			return true
		}
		i += step
	}
	return false
}
