package measure

import (
	"github.com/stopcard/stopcard/analyse/geom"
)

// Cost works out time and thread for each stop.
//
// Time is stitches over speed plus what each stop and trim costs; Steps adds
// the hand work. Thread follows the geometry of stitch type 301 (ISO 4915): a
// stitch of length L through a stack of thickness T takes 2(L + T) of needle
// and bobbin thread together, whatever the tension, shared out by
// Settings.NeedleShare. Every cut adds a tail of each thread.
var Cost = &Step{
	Name:     "cost",
	Doc:      "time and thread, by stop and for the whole",
	Requires: []*Step{Sizes},
	Run:      addCosts,
}

func addCosts(p *Pass) {
	s, r := &p.Settings, p.Report
	for i := range r.Stops {
		stop := &r.Stops[i]
		var sewn float64
		for _, seg := range p.Sewn.Track.Of(i) {
			pts := p.Sewn.Track.Pts[seg.First:seg.Last]
			for k := 1; k < len(pts); k++ {
				sewn += geom.Distance(pts[k-1], pts[k])
			}
		}
		stop.SewnMM = sewn
		needle, bobbin := LockstitchThread(sewn, stop.Stitches, s.StackMM, s.NeedleShare)
		tails := float64(stop.Trims+1) * s.TailMM
		stop.NeedleThreadM = (needle + tails) / 1000
		stop.BobbinThreadM = (bobbin + tails) / 1000
		if s.SpeedPerMinute > 0 {
			stop.MachineMin = float64(stop.Stitches) / s.SpeedPerMinute
		}
		stop.MachineMin += float64(stop.Trims) * s.TrimSeconds / 60
		stop.Minutes = stop.MachineMin + s.StopSeconds/60
		r.MachineMin += stop.MachineMin
		r.HandMin += s.StopSeconds / 60
		r.Minutes += stop.Minutes
		r.NeedleThreadM += stop.NeedleThreadM
		r.BobbinThreadM += stop.BobbinThreadM
	}
	if s.BobbinM > 0 {
		r.Bobbins = r.BobbinThreadM / s.BobbinM
	}
}

// LockstitchThread is the needle and bobbin thread in mm that stitches of
// type 301 take which are together sewn mm long, through a stack of the given
// thickness in mm: 2(L + T) a stitch, of which share (0 to 1) is needle thread.
// Source: ISO 4915 type 301, C = 2 + 2TS for S stitches per unit of length.
func LockstitchThread(sewn float64, stitches int, stack, share float64) (needle, bobbin float64) {
	all := 2 * (sewn + float64(stitches)*stack)
	return all * share, all * (1 - share)
}
