package stitches

import (
	"image/color"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

// findStops cuts the moves at colour stops and counts what each part holds: lengths
// in mm, boxes those around needle penetrations. A part that sews nothing is not counted:
// rule empty-stop tells of it, since the machine halts there all the same. A trim
// counts only between two sewn parts of one stop. It gives the number of stretches that are
// sewn without a break.
func (w *Sewn) findStops() (runs int) {
	d := w.Design
	var all stitchfile.Box
	for block, first := 0, 0; first <= len(d.Moves); block++ {
		s, box, sewn, n := countStop(d.Moves[first:])
		end := first + n
		runs += sewn
		w.Jumps += s.Jumps
		if s.Stitches > 0 {
			s.Number, s.First, s.Last = len(w.Stops)+1, first, end
			s.Role = report.RoleStitching
			s.Halt = first > 0 && d.Moves[first-1].Mark&stitchfile.MarkHalt != 0
			s.Thread = d.Thread(block)
			if s.BoundsMM = [4]float64{float64(box.MinX), float64(box.MinY), float64(box.MaxX), float64(box.MaxY)}; len(w.Stops) == 0 {
				all = box
			}
			all = stitchfile.Box{MinX: min(all.MinX, box.MinX), MinY: min(all.MinY, box.MinY), MaxX: max(all.MaxX, box.MaxX), MaxY: max(all.MaxY, box.MaxY)}
			w.Stops = append(w.Stops, s)
		} else {
			w.Empty = append(w.Empty, len(w.Stops))
		}
		first = end + 1
	}
	if len(w.Stops) > 0 {
		w.box = all
		w.WidthMM, w.HeightMM = float64(all.Width())/10, float64(all.Height())/10
		w.CentreX = (float64(all.MinX) + float64(all.MaxX)) / 2
		w.CentreY = (float64(all.MinY) + float64(all.MaxY)) / 2
	}
	for i := range w.Stops {
		for j, c := range []float64{w.CentreX, w.CentreY, w.CentreX, w.CentreY} {
			v := &w.Stops[i].BoundsMM[j]
			*v = (*v - c) / 10
		}
	}
	nameThreads(w.Stops)
	return runs
}

// nameThreads gives each stop its thread's colour, the words for it among the
// colours of all of them, and what the file itself calls it.
func nameThreads(stops []report.Stop) {
	var cs []color.RGBA
	for i := range stops {
		t := stops[i].Thread
		stops[i].ThreadName, stops[i].ThreadNumber = words.ThreadName(t.Name, t.Maker), words.ThreadNumber(t.Catalogue, t.Index)
		if t.HasColour() {
			cs = append(cs, t.Colour)
		}
	}
	names := words.ColourNames(cs)
	for i, n := 0, 0; i < len(stops); i++ {
		if t := stops[i].Thread; t.HasColour() {
			hex := words.Hex(t.Colour)
			stops[i].Colour, stops[i].ColourName = &hex, &names[n]
			n++
		}
	}
}

// countStop counts the part that moves begin with, up to the next colour stop: n moves. It
// gives the box around its stitches, if it has any, and the number of stretches sewn without
// a break.
func countStop(moves []stitchfile.Move) (s report.Stop, box stitchfile.Box, runs, n int) {
	cut, stitches := false, 0
	box = stitchfile.Box{MinX: math.MaxInt32, MinY: math.MaxInt32, MaxX: math.MinInt32, MaxY: math.MinInt32}
	for n < len(moves) && moves[n].Kind != stitchfile.ColourStop {
		switch moves[n].Kind {
		case stitchfile.Stitch:
			if cut && stitches > 0 {
				s.Trims++
			}
			cut, runs = false, runs+1
			from := n
			for ; n < len(moves) && moves[n].Kind == stitchfile.Stitch; n++ {
				m := &moves[n]
				box.MinX, box.MaxX = min(box.MinX, m.X), max(box.MaxX, m.X)
				box.MinY, box.MaxY = min(box.MinY, m.Y), max(box.MaxY, m.Y)
			}
			stitches += n - from
			continue
		case stitchfile.Jump:
			s.Jumps++
		case stitchfile.Trim:
			cut = true
		}
		n++
	}
	s.Stitches = stitches
	return s, box, runs, n
}
