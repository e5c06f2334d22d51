package analyse_test

import (
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Where the pauses of a file were lost, a machine can be stopped by hand only where it cuts
// the thread; where it ties off and goes on nobody is told to.
func TestLostPausesTellWhatHandsCanDo(t *testing.T) {
	satin := st.SatinAlong{Width: 4, Pitch: 0.4}
	for _, c := range []struct {
		name   string
		part   []func(b *st.Builder) *st.Builder // one piece each
		words  string
		byHand bool
	}{
		{"cut", []func(*st.Builder) *st.Builder{(*st.Builder).Trim}, "the thread cut between", true},
		{"tied off", []func(*st.Builder) *st.Builder{(*st.Builder).TieOff}, "the thread tied off between", false},
		{"both, one piece each", []func(*st.Builder) *st.Builder{(*st.Builder).Trim, (*st.Builder).TieOff}, "2 times a line", false},
	} {
		b := new(st.Builder)
		for i, part := range c.part {
			ring := st.Circle(st.Point{X: 80 * float64(i)}, 30)
			part(b.Run(ring, 2.5)).DoubleRun(ring.Offset(0.5), 2.2)
			part(b).Satin(ring, satin).Trim()
		}
		var told []report.Finding
		for _, f := range mustRun(b.Design(), report.DefaultSettings()).Findings {
			if f.Rule == "missing-pause" {
				told = append(told, f)
			}
		}
		if len(told) != 1 || !strings.Contains(told[0].Message, c.words) || strings.Contains(told[0].Advice, "by hand") != c.byHand {
			t.Errorf("%s: %+v", c.name, told)
		}
	}
}
