package applique

import (
	"slices"

	"github.com/stopcard/stopcard/analyse/geom"
)

// closes reports whether the line's ends meet.
func (t *Trace) closes() bool {
	n := len(t.Line)
	opening := geom.Distance(t.Line[0], t.Line[n-1])
	if t.Kind.Surface() {
		return n > 3 && t.Length > 12 && opening <= 4
	}
	return n > 3 && t.Length > 4*closesWithin && opening <= closesWithin
}

// finish closes and measures a line. Mostly it takes points between those of its stitches:
// they stand in what is left of room, if that is enough; what is left then is given back
// for the next.
func (t *Trace) finish(room []geom.Point) []geom.Point {
	line := t.Line
	t.Opening = geom.Distance(line[0], line[len(line)-1])
	whole, about := line, t.Length
	fine, length := fineUntil(line)
	t.Length = length
	stays := fine == len(line) && (t.Opening == 0 || !t.closes() || cap(line)-len(line) > int(t.Opening/traceStep))
	if !stays {
		between := min(about, longestStitch*float64(len(line))) / traceStep
		if need := len(line) + int(between) + mostToClose; cap(room) < need {
			room = make([]geom.Point, 0, max(need, roomOf(room)))
		}
		whole = append(room[:0], line[:fine]...)
		for i := fine; i < len(line); i++ {
			var d float64
			whole, d = goOn(whole, line[i-1], line[i])
			t.Length += d
		}
	}
	if t.Closed = t.closes(); t.Closed && t.Opening > 0 {
		end := line[len(line)-1]
		if t.Kind.Surface() {
			n := withoutOverrun(whole)
			t.Length -= geom.PathLength(whole[n-1:])
			if n < len(whole) && stays {
				whole = slices.Clip(whole[:n]) // what is closed now is not written over it
			}
			whole, end = whole[:n], whole[n-1]
		}
		var d float64
		whole, d = goOn(whole, end, line[0])
		t.Length += d
	}
	t.Line = slices.Clip(whole)
	t.Box = geom.BoxOf(t.Line)
	if stays || len(whole) > cap(room) {
		return room // it took another
	}
	return room[len(whole):len(whole)]
}

// closedUp closes a line whose ends meet.
func closedUp(line []geom.Point) []geom.Point {
	return append(slices.Clip(line[:withoutOverrun(line)]), line[0])
}

// withoutOverrun is how many points of a line that closes are left without those at its end
// that go over its beginning once more, as a zigzag does that is sewn on past its seam.
func withoutOverrun(line []geom.Point) int {
	n := len(line)
	for over := 0.0; n > 3 && over < seamOpen; n-- {
		if line[n-1].Sub(line[n-2]).Dot(line[0].Sub(line[n-1])) >= 0 {
			break
		}
		over += geom.Distance(line[n-1], line[n-2])
	}
	return n
}

// fineUntil is how many points a line begins with that goOn leaves as they are, and how
// long it is along them.
func fineUntil(line []geom.Point) (n int, length float64) {
	for n = 1; n < len(line); n++ {
		d := geom.Distance(line[n-1], line[n])
		if d == 0 || d >= traceStep && d <= longestStitch {
			break
		}
		length += d
	}
	return n, length
}

// roomOf is how many points room is made for where there was some: lines stand together.
func roomOf(room []geom.Point) int {
	if room == nil {
		return 0
	}
	return linesTogether
}

// goOn goes from the end of a line to the next point, with points between where that is
// long. It tells how long it is.
func goOn(line []geom.Point, from, to geom.Point) ([]geom.Point, float64) {
	d := geom.Distance(from, to)
	n := 1
	if d <= longestStitch {
		n += int(d / traceStep)
	}
	for k := 1; k < n; k++ {
		line = append(line, geom.Lerp(from, to, float64(k)/float64(n)))
	}
	if d > 0 {
		line = append(line, to)
	}
	return line, d
}

const (
	linesTogether = 512 // points of lines that stand together
	mostToClose   = 6   // points that close a line: what is open by more than 4 mm stays open
)

const longestStitch = 50.0 // mm: a stitch is 12 mm at most; what is longer comes from a damaged file
