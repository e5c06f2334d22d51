package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// sharing is a piece 30 mm wide and 50 mm high whose cover is a satin that comes from far
// off, goes round three of its sides so far outside them, and goes on, and one along its
// fourth side that leaves so much of it open.
func sharing(outside, open float64) *stitchfile.Design {
	line := st.Rect(st.Point{}, 30, 50)
	b := new(st.Builder).Run(line, 2.5).TieOff().Stop().DoubleRun(line.Offset(0.5), 2.2).TieOff().Stop()
	x, y := -15-outside, 25+outside
	b.Satin(st.Path{{X: 130, Y: y}, {X: x, Y: y}, {X: x, Y: -y}, {X: 130, Y: -y}}, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim()
	return b.Satin(st.Line(st.Point{X: 15, Y: -25}, st.Point{X: 15, Y: 25 - open}), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
}

func TestSharedCover(t *testing.T) {
	for _, c := range []struct {
		outside, open float64
		want          bool
	}{{0, 0, true}, {2.2, 0, true}, {2.8, 0, false}, {0, 6, true}, {0, 22, false}} {
		rec := recognised(t, sharing(c.outside, c.open))
		got := len(rec.Pieces) == 1 && rec.Pieces[0].Finish == report.FinishSatin
		if got != c.want {
			t.Errorf("a satin %.1f mm outside, and %.0f mm open: the cover of the piece: %v", c.outside, c.open, got)
		}
	}
}

// A satin that goes along little of a line is no part of its cover.
func TestSharedCoverAlong(t *testing.T) {
	for _, c := range []struct {
		width float64 // of the piece, 60 mm high, whose left side one satin covers
		want  bool
	}{{200, true}, {275, false}} {
		line := st.Rect(st.Point{X: c.width / 2}, c.width, 60)
		b := new(st.Builder).Run(line, 2.5).TieOff().Stop().DoubleRun(line.Offset(0.5), 2.2).TieOff().Stop()
		b.Satin(st.Line(st.Point{Y: -110}, st.Point{Y: 110}), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim()
		rest := st.Path{{X: c.width, Y: 30}, {X: 3, Y: 30}}
		b.Satin(rest, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim()
		b.Satin(st.Path{{X: 3, Y: -30}, {X: c.width, Y: -30}, {X: c.width, Y: 30 - 0.08*(c.width+60)}}, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
		rec := recognised(t, b.Design())
		left := false
		for _, w := range rec.Pieces {
			for _, tr := range w.Cover {
				left = left || tr.Box.Width() < 1 && tr.Length > 200
			}
		}
		if left != c.want {
			t.Errorf("a satin along 60 mm of %.0f mm is of the cover: %v", 2*(c.width+60), left)
		}
	}
}

// A piece that reaches to the border of its block has a cover on the side that is in
// sight, and batting may be held inside its edge.
func TestCoverUpToTheSeam(t *testing.T) {
	for _, c := range []struct {
		short float64 // mm by which the piece ends short of the outline on all three sides
		want  bool
	}{{0, true}, {1.6, true}, {4, false}} {
		block := st.Rect(st.Point{}, 140, 140)
		land := st.Path{{X: -70 + c.short, Y: -70 + c.short}, {X: 70 - c.short, Y: -70 + c.short}, {X: 70 - c.short, Y: -20}, {X: -70 + c.short, Y: -20}, {X: -70 + c.short, Y: -70 + c.short}}
		b := new(st.Builder).Run(block, 2.5).TieOff().Stop().Run(block.Offset(-1), 2.5).TieOff().Stop()
		b.Run(land, 2.5).TieOff().Stop().DoubleRun(land.Offset(0.5), 2.2).TieOff().Stop()
		b.Satin(st.Line(st.Point{X: -60 + c.short, Y: -20}, st.Point{X: 60 - c.short, Y: -20}), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop()
		b.Run(block.Offset(4), 2.5).TieOff().Stop().Run(block.Offset(-2), 2.5).TieOff()
		rec := recognised(t, b.Design())
		if got := len(rec.Pieces) == 1 && len(rec.Pieces[0].Covers) == 1; got != c.want {
			t.Errorf("a piece that ends %.1f mm short of the outline: %d pieces, covered: %v", c.short, len(rec.Pieces), got)
		}
		if role := rec.Roles[5].Role; c.want && role != report.RoleBattingHoldDown {
			t.Errorf("a piece that ends %.1f mm short of the outline: stop 6 is %s", c.short, role)
		}
	}
}
