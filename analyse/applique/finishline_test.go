package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A raw edge is finished by a heavy line further in than the tack-down.
func TestFinishLineOfARawEdge(t *testing.T) {
	for _, v := range []struct {
		name     string
		tack     *round
		line     *round
		finishes bool
	}{
		{"a bean line 1.0 mm inside", at(1, single, 0.3, 0), at(2, triple, 1.0, 0), true},
		{"a bean line 0.8 mm inside", at(1, single, 0.3, 0), at(2, triple, 0.8, 0), false},
		{"a bean line 4.5 mm inside", at(1, single, 0.3, 0), at(2, triple, 4.5, 0), true},
		{"a bean line 5.5 mm inside", at(1, single, 0.3, 0), at(2, triple, 5.5, 0), false},
		{"a line sewn twice", at(1, single, 0.3, 0), at(2, double, 1.2, 0), false},
		{"a bean line outside the tack-down", at(1, single, 1.6, 0), at(2, triple, 1.2, 0), false},
		{"a bean line over another", at(1, triple, 0.3, 0), at(2, triple, 1.2, 0), true},
		{"a bean line of the same stop", at(1, single, 0.3, 0), at(1, triple, 1.2, 0), false},
		{"a bean line that wanders by 1.5 mm", at(1, single, 0.3, 0), at(2, triple, 1.2, 1.5), true},
		{"a bean line that wanders by 1.7 mm", at(1, single, 0.3, 0), at(2, triple, 1.2, 1.7), false},
		{"after a tack-down 0.5 mm outside", at(1, single, -0.5, 0), at(2, triple, 1.2, 0), false},
	} {
		if got := ringChain(v.tack, v.line).finishLine(v.tack) != nil; got != v.finishes {
			t.Errorf("%s finishes a raw edge: %v", v.name, got)
		}
	}
	third := at(1, triple, 0.3, 0)
	three := ringChain(third, at(2, triple, 1.2, 0))
	three.line.Kind = report.KindTripleRun
	if three.finishLine(third) != nil {
		t.Error("the third of three bean lines finishes a raw edge")
	}
	tack, heavy := at(1, single, 0.3, 0), at(2, triple, 1.2, 0)
	weighsMore(t, "a raw edge finished by a bean line, and none", apart().rawEvidence(ringChain(tack, heavy), &option{tack: tack}),
		apart().rawEvidence(ringChain(tack), &option{tack: tack}), true)
}

// Where line and tack-down are one, a heavy line over both finishes the edge that is cut
// close to them.
func TestEdgeFinishedOnItsLine(t *testing.T) {
	for _, v := range []struct {
		name     string
		tack     *round
		after    []*round
		finished bool
	}{
		{"a bean line over the tack-down", at(1, single, 0.1, 0), []*round{at(2, triple, 0.1, 0)}, true},
		{"0.8 mm from it", at(1, double, 0, 0), []*round{at(2, triple, 0.8, 0)}, true},
		{"1 mm from it", at(1, single, 0, 0), []*round{at(2, triple, 1, 0)}, false},
		{"in the stop of the tack-down", at(1, single, 0.1, 0), []*round{at(1, triple, 0.1, 0)}, false},
		{"a line sewn twice", at(1, single, 0.1, 0), []*round{at(2, double, 0.1, 0)}, false},
		{"and a light line after it", at(1, single, 0.1, 0), []*round{at(2, triple, 0.1, 0), at(3, single, 0.1, 0)}, false},
		{"over a bean line", at(1, triple, 0.1, 0), []*round{at(2, triple, 0.1, 0)}, false},
		{"over a tack-down that wanders by 0.4 mm", at(1, single, 0, 0.4), []*round{at(2, triple, 0, 0)}, true},
		{"over one that wanders by 0.6 mm", at(1, single, 0, 0.6), []*round{at(2, triple, 0, 0)}, false},
		{"a bean line that wanders by 0.4 mm", at(1, single, 0, 0), []*round{at(2, triple, 0, 0.4)}, true},
		{"one that wanders by 0.6 mm", at(1, single, 0, 0), []*round{at(2, triple, 0, 0.6)}, false},
		{"with line and tack-down in one stop", at(0, single, 0.1, 0), []*round{at(1, triple, 0.1, 0)}, false},
	} {
		c := ringChain(append([]*round{v.tack}, v.after...)...)
		if got := c.finishedOn(v.tack) != nil; got != v.finished {
			t.Errorf("%s: finished %v", v.name, got)
		}
		c.line.Kind = report.KindTripleRun
		if c.finishedOn(v.tack) != nil {
			t.Errorf("%s: finished, though its line is heavy", v.name)
		}
	}
	tack, heavy := at(1, single, 0, 0), at(2, triple, 0, 0)
	weighsMore(t, "a line sewn again with a bean line over it, and without", apart().rawEvidence(ringChain(tack, heavy), &option{tack: tack}),
		apart().rawEvidence(ringChain(tack), &option{tack: tack}), true)
}

// A line that breaks off along a little of the edge still finishes it.
func TestFinishThatBreaksOff(t *testing.T) {
	for _, v := range []struct {
		share    float64
		finishes bool
	}{{0.88, true}, {0.84, false}} {
		for _, in := range []float64{0, 1.2} {
			tack, bean := at(1, single, 0, 0), at(2, triple, in, 0)
			bean.share = v.share
			if got := ringChain(tack, bean).finishedBy(tack) == 3; got != v.finishes {
				t.Errorf("a bean line %.1f mm inside along %.2f of the edge finishes it: %v", in, v.share, got)
			}
		}
	}
}

// Where a later stop finishes a raw edge, line and tack-down in one stop are two whose pause
// was lost. Without that they are two lines.
func TestRawEdgeWhosePauseWasLost(t *testing.T) {
	for _, finished := range []bool{true, false} {
		b := new(st.Builder)
		for x := range 3 {
			ring := st.Circle(st.Point{X: 60 * float64(x)}, 20)
			b.Run(ring, 2.5).TieOff()
			if x < 2 {
				b.Stop()
			} else {
				b.Trim()
			}
			b.DoubleRun(ring.Offset(0.5), 2.2).TieOff()
			if x < 2 || finished {
				b.Stop().TripleRun(ring.Offset(1.5), 2.3).TieOff()
			}
			if x < 2 {
				b.Stop()
			}
		}
		rec := recognised(t, b.Design())
		lost := len(rec.Rehearsal.Missing) == 1 && rec.Rehearsal.Missing[0].Piece == 3
		if len(rec.Pieces) != 2 && !finished || finished && (len(rec.Pieces) != 3 || !rec.Pieces[2].OneStop || !lost) {
			t.Errorf("finished by a bean line %v: %d pieces, pauses missing: %v", finished, len(rec.Pieces), rec.Rehearsal.Missing)
		}
	}
}
