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
// counts only between two sewn parts of one stop.
func (w *Sewn) findStops() {
	d := w.Design
	if box, ok := d.Bounds(); ok {
		w.WidthMM, w.HeightMM = float64(box.Width())/10, float64(box.Height())/10
		w.CentreX = (float64(box.MinX) + float64(box.MaxX)) / 2
		w.CentreY = (float64(box.MinY) + float64(box.MaxY)) / 2
	}
	block, first := 0, 0
	for i := 0; i <= len(d.Moves); i++ {
		if i < len(d.Moves) && d.Moves[i].Kind != stitchfile.ColourStop {
			continue
		}
		s := countStop(d.Moves[first:i])
		w.Jumps += s.Jumps
		if s.Stitches > 0 {
			s.Number, s.First, s.Last = len(w.Stops)+1, first, i
			s.Role = report.RoleStitching
			s.Halt = first > 0 && d.Moves[first-1].Mark&stitchfile.MarkHalt != 0
			s.Thread = d.Thread(block)
			for j, c := range []float64{w.CentreX, w.CentreY, w.CentreX, w.CentreY} {
				s.BoundsMM[j] = (s.BoundsMM[j] - c) / 10
			}
			w.Stops = append(w.Stops, s)
		} else {
			w.Empty = append(w.Empty, len(w.Stops))
		}
		block, first = block+1, i+1
	}
	nameThreads(w.Stops)
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

// countStop counts one part. Its bounds are left in 0.1 mm.
func countStop(moves []stitchfile.Move) report.Stop {
	var s report.Stop
	cut := false
	minX, minY, maxX, maxY := int32(math.MaxInt32), int32(math.MaxInt32), int32(math.MinInt32), int32(math.MinInt32)
	for _, m := range moves {
		switch m.Kind {
		case stitchfile.Stitch:
			if cut && s.Stitches > 0 {
				s.Trims++
			}
			cut = false
			s.Stitches++
			minX, maxX = min(minX, m.X), max(maxX, m.X)
			minY, maxY = min(minY, m.Y), max(maxY, m.Y)
		case stitchfile.Jump:
			s.Jumps++
		case stitchfile.Trim:
			cut = true
		}
	}
	if s.Stitches > 0 {
		s.BoundsMM = [4]float64{float64(minX), float64(minY), float64(maxX), float64(maxY)}
	}
	return s
}
