package spools

import (
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
)

// Noted gives the stops whose thread is noted by a name of the box that thread.
func Noted(r *report.Report, box []report.OwnThread) {
	for i := range r.Stops {
		s := &r.Stops[i]
		if !s.ThreadNoted {
			continue
		}
		s.Spool = nil
		for _, t := range box {
			if strings.EqualFold(strings.TrimSpace(t.Name), s.ThreadName) {
				s.Spool = &report.Spool{Name: t.Name, Colour: t.Colour, Near: report.NearNoted}
				break
			}
		}
	}
}

// Count sums up what the stops of r take of each thread of the box, in the order of
// their first use. Threads that are only the nearest of what does not fit do not
// count: they stay in the box.
func Count(r *report.Report, box []report.OwnThread) {
	r.Spools = []report.SpoolUse{}
	for i := range r.Stops {
		s := &r.Stops[i]
		if s.Spool == nil || s.Spool.Near == report.NearOff {
			continue
		}
		j := slices.IndexFunc(r.Spools, func(u report.SpoolUse) bool { return u.Name == s.Spool.Name })
		if j < 0 {
			j = len(r.Spools)
			u := report.SpoolUse{Name: s.Spool.Name, Colour: s.Spool.Colour, Stops: []int{}}
			if k := slices.IndexFunc(box, func(t report.OwnThread) bool { return t.Name == s.Spool.Name }); k >= 0 {
				u.LeftM = box[k].LeftM
			}
			r.Spools = append(r.Spools, u)
		}
		r.Spools[j].Stops = append(r.Spools[j].Stops, s.Number)
		r.Spools[j].NeedM += s.NeedleThreadM
	}
}
