package match

import "slices"

// lacks lists the stops of a that b has not, where it has all the others.
func lacks(a, b *Signature) ([]int, bool) {
	if out, ok := lacksOf(a, b); ok || len(b.stops) < akinLeast {
		return out, ok
	}
	var best []int
	most, tries := 0.0, 0
	boxes, all := a.stopBoxes()
	var leave func(from, n int, out []int)
	leave = func(from, n int, out []int) {
		if n == 0 {
			var keep []int
			var box pointBox
			for i := range a.stops {
				if !slices.Contains(out, i) {
					if a.stops[i].mainKind() != b.stops[len(keep)].mainKind() {
						return
					}
					keep, box = append(keep, i), box.with(boxes[i])
				}
			}
			if box == all { // the stops lie in it as they did
				for k, i := range keep {
					if a.stops[i].sketch.like(b.stops[k].sketch) < akinStop {
						return
					}
				}
			}
			if tries++; tries > akinTries {
				return
			}
			if like := akinAs(a.only(keep, boxes), b, variant{}); like >= akinWhole && like > most {
				best, most = slices.Clone(out), like
			}
			return
		}
		for i := from; i <= len(a.stops)-n; i++ {
			leave(i+1, n-1, append(out, i))
		}
	}
	leave(0, len(a.stops)-len(b.stops), nil)
	return best, best != nil
}

// pointBox is the box around needle points; the zero value is around none.
type pointBox struct {
	lo, hi needlePoint
	any    bool
}

func (b pointBox) with(c pointBox) pointBox {
	switch {
	case !c.any:
		return b
	case !b.any:
		return c
	}
	return pointBox{needlePoint{min(b.lo.x, c.lo.x), min(b.lo.y, c.lo.y)}, needlePoint{max(b.hi.x, c.hi.x), max(b.hi.y, c.hi.y)}, true}
}

// stopBoxes are the boxes around the needle points of each stop and of all.
func (s *Signature) stopBoxes() (each []pointBox, all pointBox) {
	each = make([]pointBox, len(s.stops))
	for i := range each {
		for _, p := range s.pointsOf(i) {
			each[i] = each[i].with(pointBox{p, p, true})
		}
		all = all.with(each[i])
	}
	return each, all
}

// only is a design with only some of its stops, in so far as it is looked at here.
func (s *Signature) only(keep []int, boxes []pointBox) *Signature {
	out := &Signature{Path: s.Path, whole: make(sketch, wholeSketch*wholeSketch), stops: make([]stopSign, 0, len(keep))}
	var box pointBox
	for _, i := range keep {
		box = box.with(boxes[i])
	}
	lo, hi := box.lo, box.hi
	out.WidthMM, out.HeightMM = (float64(hi.x)-float64(lo.x))/10, (float64(hi.y)-float64(lo.y))/10
	pen := sketching{side: max(10*out.WidthMM, 10*out.HeightMM, 1), cx: (float64(lo.x) + float64(hi.x)) / 2, cy: (float64(lo.y) + float64(hi.y)) / 2}
	for _, i := range keep {
		g := s.stops[i]
		g.sketch = make(sketch, stopSketch*stopSketch)
		s.draw(i, &pen, g.sketch, out.whole)
		g.sketch = g.sketch.finished(stopSketch)
		out.stops = append(out.stops, g)
	}
	out.whole = out.whole.finished(wholeSketch)
	return out
}
