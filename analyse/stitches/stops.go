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
	var room [32]part // few designs have more
	parts := room[:0]
	for block, first := 0, 0; first <= len(d.Moves); block++ {
		g := countPart(d.Moves, first)
		g.block = block
		w.Jumps += g.jumps
		if runs += g.runs; g.stitches > 0 {
			parts = append(parts, g)
		} else {
			w.Empty = append(w.Empty, len(parts))
		}
		first = g.last + 1
	}
	if len(parts) > 0 {
		w.Stops = make([]report.Stop, len(parts))
	}
	var all stitchfile.Box
	for i := range parts {
		g, s := &parts[i], &w.Stops[i]
		s.Number, s.First, s.Last = i+1, g.first, g.last
		s.Stitches, s.Jumps, s.Trims = g.stitches, g.jumps, g.trims
		s.Role = report.RoleStitching
		s.Halt = g.first > 0 && d.Moves[g.first-1].Mark&stitchfile.MarkHalt != 0
		s.Thread = d.Thread(g.block)
		if s.BoundsMM = [4]float64{float64(g.box.MinX), float64(g.box.MinY), float64(g.box.MaxX), float64(g.box.MaxY)}; i == 0 {
			all = g.box
		}
		all = stitchfile.Box{MinX: min(all.MinX, g.box.MinX), MinY: min(all.MinY, g.box.MinY), MaxX: max(all.MaxX, g.box.MaxX), MaxY: max(all.MaxY, g.box.MaxY)}
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

// part is the moves from one colour stop to the next.
type part struct {
	block                  int // its number
	first, last            int // in Design.Moves, last excluded
	stitches, jumps, trims int
	runs                   int            // stretches sewn without a break
	box                    stitchfile.Box // around its stitches, if it has any
}

// countPart counts the part that begins at a move.
func countPart(moves []stitchfile.Move, first int) part {
	g := part{first: first}
	cut, n := false, first
	box := stitchfile.Box{MinX: math.MaxInt32, MinY: math.MaxInt32, MaxX: math.MinInt32, MaxY: math.MinInt32}
	for n < len(moves) && moves[n].Kind != stitchfile.ColourStop {
		switch moves[n].Kind {
		case stitchfile.Stitch:
			if cut && g.stitches > 0 {
				g.trims++
			}
			cut = false
			from := n
			for ; n < len(moves) && moves[n].Kind == stitchfile.Stitch; n++ {
				m := &moves[n]
				box.MinX, box.MaxX = min(box.MinX, m.X), max(box.MaxX, m.X)
				box.MinY, box.MaxY = min(box.MinY, m.Y), max(box.MaxY, m.Y)
			}
			g.stitches, g.runs = g.stitches+n-from, g.runs+1
			continue
		case stitchfile.Jump:
			g.jumps++
		case stitchfile.Trim:
			cut = true
		}
		n++
	}
	g.last, g.box = n, box
	return g
}
