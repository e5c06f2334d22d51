package match

import (
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// firstOf is the beginning of a design: so many of its stitches.
func firstOf(d *stitchfile.Design, stitches int) *stitchfile.Design {
	out := *d
	for i, m := range d.Moves {
		if m.Kind != stitchfile.Stitch {
			continue
		}
		if stitches--; stitches < 0 {
			out.Moves = d.Moves[:i:i]
			break
		}
	}
	return &out
}

// whole is a design of which its reader is sure.
func whole(d *stitchfile.Design) *stitchfile.Design {
	d.Whole = stitchfile.Whole
	return d
}

// A file that breaks off where another goes on is told to be cut short, and no design of
// its own. One that ends with a colour stop, or without the last lock stitches, is not.
func TestFileThatBreaksOff(t *testing.T) {
	ring := st.Circle(st.Point{}, 25)
	sew := func(satin float64) *st.Builder {
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
		return b.Satin(ring, st.SatinAlong{Width: satin, Pitch: 0.4})
	}
	ended := sew(4).TieOff().Design()
	all := sew(4).TieOff().Stop().Bean(st.Circle(st.Point{}, 12), 2.5, 3).TieOff().Design()
	end := ended.Counts().Stitches
	for _, c := range []struct {
		name string
		part *stitchfile.Design
		want bool
	}{
		{"in its satin", firstOf(all, 700), true},
		{"in its satin, in a file that tells that it is whole", whole(firstOf(all, 700)), false},
		{"14 stitches before a stop's end", firstOf(all, end-14), true},
		{"11 stitches before a stop's end", firstOf(all, end-11), false},
		{"with a stop", ended, false},
		{"in the last stop", firstOf(all, all.Counts().Stitches-14), true},
		{"in the last stop, without its lock stitches", firstOf(all, all.Counts().Stitches-4), false},
		{"after 102 stitches", firstOf(all, 102), true},
		{"after 100 stitches", firstOf(all, 100), false},
		{"in satin of another width", firstOf(sew(4.4).Design(), 700), false},
	} {
		for turn := range 2 {
			signs := []*Signature{signed(all, "block.dst"), signed(c.part, "block.exp")}
			if turn == 1 {
				signs[0], signs[1] = signs[1], signs[0]
			}
			told := 0
			m := mustMatch(signs)
			for i := range m.Designs {
				for _, f := range foundIn(&m.Designs[i], "set-disagrees") {
					if strings.HasPrefix(f.Message, "block.exp is cut short") && f.Severity == report.Fault {
						told++
					}
				}
			}
			if (told == 1) != c.want || told > 1 || c.want && len(m.Designs) != 1 {
				t.Errorf("one breaks off %s: told %d times, %d designs", c.name, told, len(m.Designs))
			}
		}
	}
}
