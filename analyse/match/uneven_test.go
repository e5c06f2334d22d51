package match

import (
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// stretched multiplies the places of a design, each direction by itself.
func stretchedUnevenly(d *stitchfile.Design, x, y float64) *stitchfile.Design {
	out := *d
	out.Moves = nil
	for _, m := range d.Moves {
		m.X, m.Y = int32(float64(m.X)*x+0.5), int32(float64(m.Y)*y+0.5)
		out.Moves = append(out.Moves, m)
	}
	return &out
}

// A size that was stretched one way more than the other is a copy, whatever it is called;
// one drawn anew in another shape is none.
func TestUnevenlyStretched(t *testing.T) {
	all := []int{0, 1, 2, 3, 4}
	drawn := func(side float64) *stitchfile.Design { return setOf(side, asDrawn, all...) }
	for _, c := range []struct {
		name    string
		odd     *stitchfile.Design
		others  []float64
		designs int
		words   string
	}{
		{"wider", stretchedUnevenly(drawn(130), 1.3, 1), []float64{100, 130, 180}, 1, "is a copy of 130 x 108 mm, stretched 1.30 times in width and 1.00 times in height"},
		{"flatter", stretchedUnevenly(drawn(130), 1, 0.8), []float64{100, 130, 180}, 1, "stretched 1.00 times in width and 0.80 times in height"},
		{"of two", stretchedUnevenly(drawn(130), 1.3, 1), []float64{130}, 1, "which cannot be told"},
		{"by less than rounding tells", stretchedUnevenly(drawn(130), 1.2, 1.19), []float64{100, 130, 180}, 1, "stitch for stitch the same (satin"},
	} {
		var signs []*Signature
		for i, side := range c.others {
			signs = append(signs, signed(drawn(side), strings.Repeat("x", i+3)+".dst"))
		}
		m := mustMatch(append(signs, signed(c.odd, "tulip.dst")))
		if len(m.Designs) != c.designs {
			t.Errorf("%s: %d designs", c.name, len(m.Designs))
			continue
		}
		told := foundIn(&m.Designs[0], "stretched-copy")
		if len(told) != 1 || !strings.Contains(told[0].Message, c.words) || told[0].Severity != report.Caution {
			t.Errorf("%s: %+v", c.name, told)
		}
	}
	a, b := signed(drawn(130), "a.dst"), signed(stretchedUnevenly(drawn(130), 1.3, 1), "b.dst")
	for k := range b.points {
		if k%3 == 1 {
			b.points[k].y += 30 // needle points that lie elsewhere
		}
	}
	if _, _, ok := unevenOver(a, b); ok {
		t.Error("needle points that lie elsewhere are those of a copy")
	}
}
