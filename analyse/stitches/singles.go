package stitches

import (
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// single reports whether main strokes are single stitches, one right after the other: so
// most satin is sewn.
func (c *classifier) single(lo, hi int) bool {
	first, last := c.main[lo], c.main[hi-1]
	return int(last-first) == hi-1-lo && int(c.strokes[last].to-c.strokes[first].from) == hi-lo
}

// labelSingle is label where all are single: it asks nothing of their rows, nor of how far
// apart they are, which tell kinds of split crossings.
func (c *classifier) labelSingle(labels []report.Kind, lo int) {
	n := len(labels)
	strokes := c.strokes[c.main[lo]:][:n]
	pts := c.t.Pts[strokes[0].from:][:n+1]
	// Running sums over the window [a, b), and what they are of.
	var cycle [4 * window]float64
	var along [4 * window]int8
	var cycles float64
	alongs := 0
	a, b := 0, 0
	for j := range labels {
		for ; b < min(n, j+window+1); b++ {
			far, on := 0.0, int8(0)
			mid := geom.Middle(pts[b], pts[b+1])
			if b+1 < n {
				v, s := geom.Middle(pts[b+1], pts[b+2]).Sub(mid), &strokes[b]
				if l := alongLeast * float64(s.length); v.Dot(v) > l*l && s.goesAlong(v, pts[b+1].Sub(pts[b])) {
					on = 1
				}
			}
			if b+2 < n {
				far = geom.Distance(mid, geom.Middle(pts[b+2], pts[b+3]))
			}
			k := b % len(cycle)
			cycle[k], along[k] = far, on
			cycles, alongs = cycles+far, alongs+int(on)
		}
		for ; a < j-window; a++ {
			k := a % len(cycle)
			cycles, alongs = cycles-cycle[k], alongs-int(along[k])
		}
		advance := cycles / float64(max(1, min(b, n-2)-a))
		switch {
		case strokes[j].length > splitLongest:
			labels[j] = report.KindRun // a line that leads into satin
		case 2*alongs > max(1, min(b, n-1)-a):
			labels[j] = report.KindTripleRun // forward two, back one
		default:
			labels[j] = kindOpen(advance)
		}
	}
}
