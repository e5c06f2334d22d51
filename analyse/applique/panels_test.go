package applique

import (
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// panes are two panels side by side, 40 mm high, that share an edge; the lines of both stand
// so far beyond it.
func panes(over float64) (left, right st.Path) {
	y := 20 + over
	left = st.Polygon(st.Point{X: -30 - over, Y: -y}, st.Point{X: over, Y: -y}, st.Point{X: over, Y: y}, st.Point{X: -30 - over, Y: y})
	right = st.Polygon(st.Point{X: -over, Y: -y}, st.Point{X: 30 + over, Y: -y}, st.Point{X: 30 + over, Y: y}, st.Point{X: -over, Y: y})
	return left, right
}

// glaze sews satin over the edge between the panels and round both, but for the last of
// its way.
func glaze(b *st.Builder, open float64) {
	b.Satin(st.Line(st.Point{Y: -20}, st.Point{Y: 20}), st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Trim()
	round := st.Rect(st.Point{}, 60, 40)
	if open > 0 {
		round = slices.Clone(round)
		round[4].Y = round[3].Y - (40 - open)
	}
	b.Satin(round, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
}

// laidAt are the stops, from 1, before which applique cloth is laid, each with the manner.
func laidAt(r *Recognised) map[int][]Manner {
	out := map[int][]Manner{}
	for _, s := range r.Rehearsal.Steps {
		if s.Kind == report.StepLay && s.What == report.AppliqueCloth {
			out[s.Stop+1] = append(out[s.Stop+1], s.Manner)
		}
	}
	return out
}

// Panels under one satin may be cut beforehand, or have lost what holds one of them.
func TestPanelsUnderOneSatin(t *testing.T) {
	left, right := panes(0)
	single := func(b *st.Builder, p st.Path) { b.Run(p, 2.5).TieOff() }
	twice := func(b *st.Builder, p st.Path) { b.DoubleRun(p, 2.2).TieOff() }
	shape := func(n int) []Manner { return slices.Repeat([]Manner{ToShape}, n) }
	for _, c := range []struct {
		name string
		sew  func(b *st.Builder)
		want map[int][]Manner
	}{
		{"cut beforehand", func(b *st.Builder) {
			single(b, left)
			single(b.Trim(), right)
			glaze(b.Stop(), 0)
		}, map[int][]Manner{2: shape(2)}},
		{"cut beforehand, a stop each", func(b *st.Builder) {
			single(b, left)
			single(b.Stop(), right)
			glaze(b.Stop(), 0)
		}, map[int][]Manner{3: shape(2)}},
		{"cut beforehand, 5 mm of the left one open", func(b *st.Builder) {
			single(b, left)
			single(b.Trim(), right)
			glaze(b.Stop(), 5)
		}, map[int][]Manner{2: shape(2)}},
		{"cut beforehand, 30 mm of the left one open", func(b *st.Builder) {
			single(b, left)
			single(b.Trim(), right)
			glaze(b.Stop(), 30)
		}, map[int][]Manner{}},
		{"one line, and satin that goes on", func(b *st.Builder) {
			twice(b, left)
			glaze(b.Stop(), 0)
		}, map[int][]Manner{}},
		{"the tack-down of one lost", func(b *st.Builder) {
			single(b, left)
			twice(b.Stop(), left)
			single(b.Stop(), right)
			glaze(b.Stop(), 0)
		}, map[int][]Manner{2: {Usually}, 4: shape(1)}},
		{"line and tack-down of one in one stop", func(b *st.Builder) {
			single(b, left)
			twice(b.Stop(), left)
			single(b.Stop(), right)
			twice(b.Trim(), right)
			glaze(b.Stop(), 0)
		}, map[int][]Manner{2: {Usually}, 3: {ByHand}}},
		{"all lines and tack-downs in one stop", func(b *st.Builder) {
			single(b, left)
			single(b.Trim(), right)
			twice(b.Trim(), left)
			twice(b.Trim(), right)
			glaze(b.Stop(), 0)
		}, map[int][]Manner{1: {ByHand, ByHand}}},
	} {
		b := new(st.Builder)
		c.sew(b)
		got := laidAt(recognised(t, b.Design()))
		if !mapsEqual(got, c.want) {
			t.Errorf("%s: laid %v, want %v", c.name, got, c.want)
		}
	}
}

func mapsEqual(a, b map[int][]Manner) bool {
	if len(a) != len(b) {
		return false
	}
	for k, v := range a {
		if !slices.Equal(v, b[k]) {
			return false
		}
	}
	return true
}

// Lines of panels that stand beyond their edges are no two underlays of one satin, and a
// panel is as sure as the others are.
func TestPanelsBeyondTheirEdges(t *testing.T) {
	left, right := panes(0.6)
	b := new(st.Builder).Run(left, 2.5).TieOff().Stop().DoubleRun(left, 2.2).TieOff().Stop()
	b.Run(right, 2.5).TieOff().Stop()
	glaze(b, 0)
	w := recognised(t, b.Design()).Pieces
	if len(w) != 2 || !w[1].PreCut || w[1].MayBePlain() {
		t.Fatalf("%d pieces, want two, the second without a tack-down and no plain line: %+v", len(w), w)
	}
}

// Panels whose every pause was lost are told where the thread is cut between their lines.
func TestPanelsInOneStop(t *testing.T) {
	left, right := panes(0)
	for _, c := range []struct {
		name string
		open float64
		cut  bool
		want int
	}{
		{"cut between", 0, true, 2},
		{"no cut between", 0, false, 0},
		{"30 mm open", 30, true, 1},
	} {
		b := new(st.Builder)
		for i, p := range []st.Path{left, right, left.Offset(0.4), right.Offset(0.4)} {
			if i > 0 && c.cut {
				b.Trim()
			}
			b.Run(p, 2.5)
		}
		if c.cut {
			b.Trim()
		}
		glaze(b, c.open)
		if got := len(recognised(t, b.Design()).Merged); got != c.want {
			t.Errorf("%s: %d sets whose pauses may be lost, want %d", c.name, got, c.want)
		}
	}
}

// A zigzag or a blanket stitch finishes an edge as satin does, and a blanket stitch holds cloth
// that begins at its line or just inside.
func TestFinishesWhosePausesWereLost(t *testing.T) {
	ring := st.Circle(st.Point{}, 30)
	merged := func(sew func(b *st.Builder)) *stitchfile.Design {
		b := new(st.Builder).Run(ring, 2.5).Trim()
		sew(b)
		return b.Design()
	}
	twice := func(b *st.Builder) *st.Builder { return b.DoubleRun(ring.Offset(0.5), 2.2).Trim() }
	for _, c := range []struct {
		name string
		sew  func(b *st.Builder)
		want report.Finish // empty: nothing may be lost
	}{
		{"a zigzag", func(b *st.Builder) { twice(b).OpenZigzag(ring, 3, 1.5) }, report.FinishZigzag},
		{"a zigzag 1.5 mm wide", func(b *st.Builder) { twice(b).OpenZigzag(ring, 1.5, 1.5) }, ""},
		{"a zigzag 3.5 mm inside", func(b *st.Builder) { twice(b).OpenZigzag(ring.Offset(3.5), 3, 1.5) }, report.FinishZigzag},
		{"a zigzag 4.4 mm inside", func(b *st.Builder) { twice(b).OpenZigzag(ring.Offset(4.4), 3, 1.5) }, ""},
		{"a blanket stitch", func(b *st.Builder) { twice(b).EStitch(ring, 3, 2.4) }, report.FinishBlanket},
		{"a blanket stitch after a zigzag without a cut", func(b *st.Builder) { b.DoubleRun(ring.Offset(0.5), 2.2).EStitch(ring, 3, 2.4) }, ""},
		{"satin over a blanket stitch 0.8 mm inside", func(b *st.Builder) {
			b.EStitch(ring.Offset(0.8), 1.6, 2.2).Trim().Satin(ring, st.SatinAlong{Width: 5, Pitch: 0.4})
		}, report.FinishSatin},
		{"satin over a blanket stitch 1.5 mm inside", func(b *st.Builder) {
			b.EStitch(ring.Offset(1.5), 1, 2.2).Trim().Satin(ring, st.SatinAlong{Width: 5, Pitch: 0.4})
		}, ""},
	} {
		m := recognised(t, merged(c.sew)).Merged
		switch {
		case len(m) > 1, len(m) == 1 && m[0].Finish != c.want, len(m) == 0 && c.want != "":
			t.Errorf("%s: %+v, want %q", c.name, m, c.want)
		}
	}
}
