package analyse

var costAnalyser = Analyser{
	Name: "cost",
	Doc:  "time and thread, by stop and for the whole",
	Run:  addCosts,
}

// addCosts works out time as stitches over speed plus what each stop and trim
// costs, and thread by the geometry of stitch type 301 (ISO 4915): a stitch of
// length L through a stack of thickness T takes 2(L + T) of needle and bobbin
// thread together, whatever the tension. Each thread path adds a tail of each
// thread.
func addCosts(p *Pass) {
	s, r := p.Settings, p.Report
	for i := range r.Stops {
		stop := &r.Stops[i]
		var sewn float64
		p.eachStitch(stop, func(_ int, from, to Point, joined bool) {
			if joined {
				sewn += distance(from, to)
			}
		})
		thread := 2 * (sewn + float64(stop.Stitches)*s.StackMM)
		tails := float64(stop.Trims+1) * s.TailMM
		stop.NeedleThreadM = (thread*s.NeedleShare + tails) / 1000
		stop.BobbinThreadM = (thread*(1-s.NeedleShare) + tails) / 1000
		if s.SpeedPerMinute > 0 {
			stop.Minutes = float64(stop.Stitches) / s.SpeedPerMinute
		}
		stop.Minutes += (s.StopSeconds + float64(stop.Trims)*s.TrimSeconds) / 60
		r.Minutes += stop.Minutes
		r.NeedleThreadM += stop.NeedleThreadM
		r.BobbinThreadM += stop.BobbinThreadM
	}
}
