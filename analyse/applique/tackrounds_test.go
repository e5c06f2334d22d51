package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// Two rounds near to one another, which one stop sews along a line of an earlier one, are a
// tack-down: neither is a line over which cloth is laid.
func TestRoundsOfOneTackDown(t *testing.T) {
	for _, v := range []struct {
		name  string
		a, b  float64 // mm inside the line
		stop  int     // of the second round
		again bool
	}{
		{"two rounds 1.9 mm apart", 0.2, 2.1, 1, true},
		{"two rounds 2.1 mm apart", 0.2, 2.3, 1, false},
		{"in two stops", 0.2, 0.7, 2, false},
	} {
		a, b := at(1, single, v.a, 0), at(v.stop, zigzag, v.b, 0)
		lines := [2]*chain{}
		for i, r := range [...]*round{a, b} {
			lines[i] = newChain(traced(r.stop, report.KindRun, arc(40-r.middle, 0, 360)))
			r.traces[0].chain = lines[i]
		}
		ringChain(a, b).tellRounds()
		for i, c := range lines {
			if c.again != v.again {
				t.Errorf("%s: round %d is one of two: %v", v.name, i+1, c.again)
			}
		}
	}
	for _, v := range []struct {
		degrees float64
		again   bool
	}{{330, true}, {315, false}} {
		a, b := at(1, single, 0.3, 0), at(1, single, 0.8, 0)
		a.traces[0].chain = newChain(traced(1, report.KindRun, arc(39.7, 0, 360)))
		c := newChain(traced(0, report.KindRun, arc(40, 0, v.degrees)))
		c.rounds = []*round{a, b}
		if c.tellRounds(); a.traces[0].chain.again != v.again {
			t.Errorf("along %.0f degrees of a ring: a round is one of two: %v", v.degrees, !v.again)
		}
	}
	c := ringChain()
	fresh := c.lineEvidence()
	c.again = true
	weighsMore(t, "a line, and a round of a tack-down", fresh, c.lineEvidence(), true)
}
