package stitches

import (
	"context"
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Sewn is the stitching of a design: its colour stops, its needle points in mm,
// and what each stitch is part of. It is not changed once it is made.
type Sewn struct {
	Design *stitchfile.Design
	Scale  float64 // 1: as it is; see At

	WidthMM, HeightMM float64 // box around all penetrations
	CentreX, CentreY  float64 // its middle in the design's own coordinates, 0.1 mm
	box               stitchfile.Box

	Jumps    int           // recorded moves with the needle up, those of empty parts too
	Stops    []report.Stop // with what can be counted, and their threads
	Empty    []int         // for each part that sews nothing, the number of the stop before it
	Track    Track
	Passages []report.Passage // all of them, in sewing order
	Kinds    []report.Kind    // one for each of Design.Moves
}

// Sew reads the stitching of d. The only error is that of a context that ended.
func Sew(ctx context.Context, d *stitchfile.Design) (s *Sewn, err error) {
	defer watch.Catch(&err)
	s = &Sewn{Design: d, Scale: 1}
	s.Track = makeTrack(s, s.findStops())
	s.Track.findAgain(d.Moves, s.box)
	s.findPassages(watch.New(ctx))
	return s, nil
}

// Stitches is the number of needle penetrations.
func (s *Sewn) Stitches() int { return len(s.Track.Pts) }

// Box is the box around all needle points.
func (s *Sewn) Box() geom.Box {
	if len(s.Stops) == 0 {
		return geom.Box{}
	}
	at := func(x, y int32) geom.Point {
		return geom.Point{X: (float64(x) - s.CentreX) / 10, Y: (float64(y) - s.CentreY) / 10}.Times(s.Scale)
	}
	return geom.Box{Lo: at(s.box.MinX, s.box.MinY), Hi: at(s.box.MaxX, s.box.MaxY)}
}

// Same reports whether two designs are sewn alike as they are: the needle goes to the same
// places in the same stops, and thread is cut at the same ones. Their middles lie on one
// another.
func (s *Sewn) Same(o *Sewn) bool {
	same := func(a, b Segment) bool {
		a.Move = b.Move // other moves may stand between
		return a == b
	}
	return len(s.Stops) == len(o.Stops) && slices.EqualFunc(s.Track.Segs, o.Track.Segs, same) &&
		slices.Equal(s.Track.Pts, o.Track.Pts) && slices.Equal(s.Track.Kind, o.Track.Kind)
}

// PassagesOf gives the passages of the stop with an index.
func (s *Sewn) PassagesOf(stop int) []report.Passage {
	by := func(g report.Passage, number int) int { return g.Stop - number }
	first, _ := slices.BinarySearchFunc(s.Passages, stop+1, by)
	end, _ := slices.BinarySearchFunc(s.Passages, stop+2, by)
	return s.Passages[first:end]
}

// At is the same stitching with every length multiplied by scale, as a machine
// resizes a design with its stitch count kept. What is known of each stitch stays.
func (s *Sewn) At(scale float64) *Sewn { return s.AtIn(nil, scale) }

// AtIn is At with its needle points in the memory of pts, as far as they fit there, which
// nothing else uses any more.
func (s *Sewn) AtIn(pts []geom.Point, scale float64) *Sewn {
	if scale == 1 {
		return s
	}
	out := *s
	out.Scale *= scale
	out.WidthMM, out.HeightMM = s.WidthMM*scale, s.HeightMM*scale
	out.Stops = make([]report.Stop, len(s.Stops))
	for i, stop := range s.Stops {
		for j := range stop.BoundsMM {
			stop.BoundsMM[j] *= scale
		}
		out.Stops[i] = stop
	}
	out.Passages = make([]report.Passage, len(s.Passages))
	for i, g := range s.Passages {
		g.LengthMM *= scale
		out.Passages[i] = g
	}
	out.Track.Pts = slices.Grow(pts[:0], len(s.Track.Pts))[:len(s.Track.Pts)]
	for i, q := range s.Track.Pts {
		out.Track.Pts[i] = q.Times(scale)
	}
	return &out
}
