package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// joinDashes puts the dashes of a broken line together: short lines of one stop,
// one behind the other, with gaps that go on the way they came.
func joinDashes(in []Trace) []Trace {
	out := in[:0] // never ahead of what is still looked at
	for i := 0; i < len(in); {
		j := i + 1
		widest := 0.0
		for j < len(in) && goesOn(&in[j-1], &in[j]) && !comesRound(in[i:j]) {
			// A gap at a corner is shorter across it than the others.
			gap := gapOfDashes(in[j-1 : j+1])
			if gap > evenGaps*max(widest, gapsOfDash*in[i].Length) {
				break
			}
			widest = max(widest, gap)
			j++
		}
		if j-i < leastDashes {
			out = append(out, in[i:j]...)
			i = j
			continue
		}
		t := in[i]
		t.Line, t.Spans = slices.Clone(t.Line), slices.Clone(t.Spans)
		for k := i + 1; k < j; k++ {
			t.Line = append(t.Line, in[k].Line...)
			t.Spans = append(t.Spans, in[k].Spans...)
			t.sewn += in[k].sewn
		}
		t.dashes, t.whole = j-i, true
		gap := gapOfDashes(in[i:])
		if n := len(t.Line); geom.Distance(t.Line[0], t.Line[n-1]) < 2*gap {
			t.Line = append(t.Line, t.Line[0]) // the last gap is one more
		}
		t.finish(nil)
		out = append(out, t)
		i = j
	}
	return out
}

// comesRound reports whether dashes have come back to where they began: what follows
// is another line.
func comesRound(d []Trace) bool {
	n := len(d)
	if n < leastDashes {
		return false
	}
	gap := gapOfDashes(d)
	return geom.Distance(d[n-1].Line[len(d[n-1].Line)-1], d[0].Line[0]) < 1.5*gap
}

// gapOfDashes is the gap between the first two dashes.
func gapOfDashes(d []Trace) float64 {
	return geom.Distance(d[0].Line[len(d[0].Line)-1], d[1].Line[0])
}

// goesOn reports whether line b is the next dash after line a.
func goesOn(a, b *Trace) bool {
	if a.Stop != b.Stop || a.Kind != b.Kind || a.Kind.Surface() || a.Closed || b.Closed || a.Length > longestDash || b.Length > longestDash {
		return false
	}
	from, to := a.Line[len(a.Line)-1], b.Line[0]
	gap := to.Sub(from)
	if gap.Norm() > widestGap || gap.Norm() > 2*min(a.Length, b.Length) {
		return false
	}
	return true
}
