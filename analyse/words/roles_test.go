package words

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// A cover is called satin only where it is satin, or where one stop sews several kinds.
func TestRole(t *testing.T) {
	cover := report.Stop{Number: 3, Role: report.RoleCoverSatin}
	both := cover
	both.Parts = []report.Part{{Role: report.RoleCoverSatin, Piece: 1}, {Role: report.RoleCoverSatin, Piece: 2}}
	of := func(f ...report.Finish) *report.Report {
		r := &report.Report{}
		for i, f := range f {
			r.Pieces = append(r.Pieces, report.Piece{Number: i + 1, Finish: f})
		}
		r.Pieces[0].CoverStop = 3
		return r
	}
	for _, c := range []struct {
		r    *report.Report
		s    report.Stop
		want string
	}{
		{of(report.FinishSatin), cover, "cover satin"},
		{of(report.FinishBlanket), cover, "blanket-stitch edge"},
		{of(report.FinishZigzag), cover, "zigzag edge"},
		{of(report.FinishMotif), cover, "motif-line edge"},
		{of(report.FinishBlanket, report.FinishSatin), cover, "blanket-stitch edge"},
		{of(report.FinishBlanket, report.FinishSatin), both, "cover satin"},
		{of(report.FinishBlanket, report.FinishBlanket), both, "blanket-stitch edge"},
		{&report.Report{}, cover, "cover satin"},
		{of(report.FinishBlanket), report.Stop{Number: 3, Role: report.RoleTackDown}, "tack-down"},
	} {
		if got := Role(c.r, &c.s); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
