package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
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
