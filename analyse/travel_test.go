package analyse

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

func TestTravel(t *testing.T) {
	line := func(x, y float64) st.Path { return st.Line(st.Point{X: x, Y: y}, st.Point{X: x + 10, Y: y}) }
	b := new(st.Builder).TieIn(st.Point{}, st.Point{X: 1}).Run(line(0, 0), 2.5)
	b.JumpTo(st.Point{X: 10, Y: 20}).Run(line(10, 20), 2.5) // 20 mm loose
	b.TieOff().Trim().Run(line(0, 50), 2.5)                 // no tie at either end
	p := mustPass(mustRecognise(b.Design()), report.DefaultSettings(), 1)
	for _, a := range measure.Steps() {
		p.Do(a)
	}
	r := p.Report
	if want := 20 + math.Hypot(20, 30); math.Abs(r.NeedleUpMM-want) > 0.3 {
		t.Errorf("%.2f mm with the needle up, want %.2f", r.NeedleUpMM, want)
	}
	loose := found(t, p, "untrimmed-jump")
	if len(loose) != 1 || math.Abs(loose[0].Measured-20) > 0.3 {
		t.Errorf("loose threads: %+v, want one of 20 mm", loose)
	}
	if free := found(t, p, "no-tie"); len(free) != 1 || free[0].Measured != 2 {
		t.Errorf("untied ends: %+v, want two", free)
	}
}

// found is what one rule finds.
func found(t *testing.T, p *measure.Pass, rule string) []report.Finding {
	t.Helper()
	for _, r := range rules.All() {
		if r.ID == rule {
			all, err := r.Findings(p)
			if err != nil {
				t.Fatal(err)
			}
			return all
		}
	}
	t.Fatalf("no rule %s", rule)
	return nil
}
