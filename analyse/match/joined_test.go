package match

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// unstopped is a design without some of its stops, counted from 1: the machine runs on.
func unstopped(d *stitchfile.Design, lost ...int) *stitchfile.Design {
	out := *d
	out.Moves = slices.Clone(d.Moves)
	n := 0
	for i := range out.Moves {
		if m := &out.Moves[i]; m.Kind == stitchfile.ColourStop {
			if n++; len(lost) == 0 || slices.Contains(lost, n) {
				m.Kind = stitchfile.Jump
			}
		}
	}
	return &out
}

// A file that sews the stops of a set without pausing between is one of the set, and it is
// told where it runs on.
func TestJoinedStops(t *testing.T) {
	all := []int{0, 1, 2, 3, 4}
	set := []*Signature{
		signed(setOf(100, asDrawn, all...), "rose 100mm.dst"),
		signed(setOf(130, asDrawn, all...), "rose 130mm.dst"),
		signed(setOf(180, asDrawn, all...), "rose 180mm.dst"),
	}
	for _, c := range []struct {
		name, path string
		odd        *stitchfile.Design
		designs    int
		words      string
	}{
		{"a size in one stop", "rose 150mm.dst", unstopped(setOf(150, asDrawn, all...)), 1, "150 x 124 mm has 1 colour stop where 100 x 83 mm has 5: it sews all of it without a pause"},
		{"a size with two stops lost", "rose 150mm.dst", unstopped(setOf(150, asDrawn, all...), 1, 4), 1, "has 3 colour stops where 100 x 83 mm has 5: it does not pause before what is sewn in stops 2 and 5 of the full one"},
		{"a format in one stop", "rose 130mm.pes", unstopped(setOf(130, asDrawn, all...)), 1, "rose 130mm.pes: it has 1 colour stop where rose 130mm.dst has 5: it sews all of it without a pause"},
		{"another design in one stop", "rose 150mm.dst", unstopped(setOf(150, mirroredPath, all...)), 2, ""},
		{"in one stop under another name", "tulip 150mm.dst", unstopped(setOf(150, asDrawn, all...)), 2, ""},
	} {
		severity := report.Fault
		if c.words == "" {
			severity = ""
		}
		toldOf(t, c.name, append(slices.Clone(set), signed(c.odd, c.path)), c.designs, severity, c.words)
	}
}

// The file that is compared to may be the one that lost its stops.
func TestJoinedStopsOfTheOther(t *testing.T) {
	a := signed(unstopped(setOf(100, asDrawn, 0, 1, 2, 3, 4), 2), "rose.dst")
	b := signed(setOf(100, asDrawn, 0, 1, 2, 3, 4), "rose.pes")
	f := differ(a, b)
	if f == nil || f.Message != "it has 5 colour stops where rose.dst has 4: that one does not pause before what is sewn in stop 3 of the full one" || !strings.Contains(f.Advice, "Do not sew that one; take this") {
		t.Errorf("%+v", f)
	}
}

// So many stops are looked at, and no more; all are told that are joined.
func TestJoinsOfManyStops(t *testing.T) {
	many := func(n int, lost ...int) *Signature {
		b := new(st.Builder)
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			b.Run(st.Circle(st.Point{X: 80 * math.Cos(a), Y: 80 * math.Sin(a)}, 3), 2).Stop()
		}
		return signed(unstopped(b.Run(st.Rect(st.Point{}, 40, 30), 2).Design(), append(lost, -1)...), "ring.dst")
	}
	for n, want := range map[int]bool{8: true, joinMost - 1: true, joinMost: false} {
		got := joins(many(n), many(n, 2, 3, 5))
		if (got != nil) != want {
			t.Errorf("%d stops: %v, want found %v", n+1, got, want)
		} else if want && (len(got) != n-2 || !slices.Equal(got[:4], []int{0, 1, 4, 6})) {
			t.Errorf("%d stops: the stops of the one begin with %v of the other", n+1, got)
		}
	}
}
