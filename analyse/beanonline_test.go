package analyse_test

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Placement line, tack-down and bean line are often made of one outline (common practice, no
// single source): cloth is laid before the tack-down and trimmed before the bean line. A line
// that is only sewn again and again holds none.
func TestBeanLineOverTheTackDown(t *testing.T) {
	for _, tack := range []float64{0, 0.3} {
		for _, bean := range []float64{0, 0.3, 0.5} {
			for pieces := 1; pieces <= 2; pieces++ {
				for _, finished := range []bool{true, false} {
					var b st.Builder
					b.Run(st.Rect(st.Point{}, 120, 120), 3).TieOff()
					for k := range pieces {
						at := st.Point{X: -25 + 50*float64(k)}
						b.Stop().Run(st.Circle(at, 18), 2.5).TieOff()
						b.Stop().Run(st.Circle(at, 18-tack), 2).TieOff().Stop()
						if last := st.Circle(at, 18-tack-bean); finished {
							b.TripleRun(last, 2.5).TieOff()
						} else {
							b.Run(last, 2.2).TieOff()
						}
					}
					r := mustRun(b.Design(), report.DefaultSettings())
					want := pieces
					if !finished {
						want = 0
					}
					if len(r.Pieces) != want && (finished || tack+bean <= 0.3) {
						t.Errorf("tack-down %v mm inside, the last line %v further, a bean line %v: %d pieces, want %d", tack, bean, finished, len(r.Pieces), want)
					}
					if !finished {
						continue
					}
					for k := range min(pieces, len(r.Pieces)) {
						tackStop, beanStop := r.Stops[3*k+2], r.Stops[3*k+3]
						if !hasStep(tackStop.BeforeSteps, report.StepLay) {
							t.Errorf("tack-down %v mm inside, bean line %v further: no cloth is laid before stop %d", tack, bean, tackStop.Number)
						}
						if !hasStep(tackStop.AfterSteps, report.StepTrim) && !hasStep(beanStop.BeforeSteps, report.StepTrim) {
							t.Errorf("tack-down %v mm inside, bean line %v further: no cloth is trimmed before stop %d", tack, bean, beanStop.Number)
						}
					}
				}
			}
		}
	}
}
