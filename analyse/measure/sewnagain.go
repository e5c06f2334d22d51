package measure

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
)

const (
	againPlaces = 64   // places along the middle of a column that are looked at
	againShare  = 0.8  // of them that lie in the middle of other satin, where the column is one pass of several: passes part only at corners
	againMiddle = 0.25 // of its width from the middle of that satin that they may lie
)

// SewnAgain reports whether a satin column, by its index in Report.SatinColumns, is one pass
// of several that cover the same edge of applique, or has satin sewn over it later: each
// leaves open what the others fill, so that it is all of their thread that hides. It is the
// same at every scale.
func (p *Pass) SewnAgain(column int) bool {
	if p.part != nil {
		return p.from.SewnAgain(column)
	}
	if p.again == nil {
		p.again = p.findAgain()
	}
	return p.again[column]
}

// findAgain is SewnAgain of all columns.
func (p *Pass) findAgain() []bool {
	s := p.Recognised.Satin
	var satin []int32 // bands, by column
	for i := range s.Bands {
		if s.Bands[i].Kind == report.KindSatin {
			satin = append(satin, int32(i))
		}
	}
	out := make([]bool, len(satin))
	pieces := map[int][]int{} // those that a stop covers, in order
	for i, w := range p.Recognised.Pieces {
		for _, stop := range w.Covers {
			pieces[stop] = append(pieces[stop], i)
		}
	}
	if len(pieces) == 0 {
		return out
	}
	together := func(a, b int) bool {
		return slices.ContainsFunc(pieces[a], func(piece int) bool {
			_, both := slices.BinarySearch(pieces[b], piece)
			return both
		})
	}
	index := s.Index(s.Bands)
	for column, i := range satin {
		b := &s.Bands[i]
		if len(pieces[b.Stop]) == 0 {
			continue
		}
		other := func(k int32) bool {
			o := &s.Bands[k]
			return k != i && o.Kind == report.KindSatin && (o.Stop > b.Stop || together(b.Stop, o.Stop))
		}
		n, among := 0, 0
		for k := 0; k < len(b.Centre); k += len(b.Centre)/againPlaces + 1 {
			p.watch.Step(1)
			n++
			if index.AnyNear(b.Centre[k], 0, 2*againMiddle-1, other) {
				among++
			}
		}
		out[column] = n > 0 && float64(among) >= againShare*float64(n)
	}
	return out
}
