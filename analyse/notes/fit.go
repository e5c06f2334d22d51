package notes

import "math"

// Fit is how the stitches of a design go with those that notes were written for.
type Fit int

const (
	// NoFit is another design.
	NoFit Fit = iota
	// Unbound are notes that carry no sign: nothing can be compared.
	Unbound
	// SameStitches is the design itself, in whatever format.
	SameStitches
	// OtherSize is another size of the design: stops agree in shape.
	OtherSize
)

const (
	// Formats round to 0.1 mm, some twice, so a box may differ by 0.2 mm a side,
	// and a mean by as much besides the rounding of the sign itself.
	sameBox  = 4    // 0.1 mm
	sameMean = 1    // steps of signStep
	samePart = 0.01 // of points and of path: a format may want a point of its own at a start or an end
	samePlus = 3    // points or mm on top of that

	// Sizes of one design keep the places of its parts, but for satin, whose width
	// stays: in a block of 100 mm a border 4 mm wide lies by up to 2 % elsewhere
	// than in one of 200 mm.
	sizeMean = 0.04 // of the longer side
	sizeSide = 0.08 // the same, of the ratio of the sides
	// Runs keep their stitch length and satin its pitch, so both grow with the
	// size or stay; fills grow with its square.
	sizeStitch = 1.6 // ratio of mean stitches
	sizeGrown  = 2.0 // ratio of path over size
	// Of the stops of both, so much must agree where a person or a name says that
	// they are one design, and so much where only stitches do; and then so many,
	// since there are many squares and rings of one or two stops.
	sizeLeast = 0.75
	sizeAlone = 0.9
	sizeTold  = 3
)

// Against compares the stitches that notes were written for with those of a design.
// stops gives for each stop of the notes, from 1, the number of the design's stop
// that agrees with it, or 0; its element 0 is not used. A design of one or two stops
// is no other size of another unless it is named so, by a person or by its file.
func (s Sign) Against(d Sign, named bool) (fit Fit, stops []int) {
	if len(s.Stops) == 0 || len(d.Stops) == 0 {
		return NoFit, nil
	}
	if s.same(d) {
		stops = make([]int, len(s.Stops)+1)
		for i := range s.Stops {
			stops[i+1] = i + 1
		}
		return SameStitches, stops
	}
	stops, agree := s.pair(d)
	share := float64(2*agree) / float64(len(s.Stops)+len(d.Stops))
	if share < sizeLeast || !named && (share < sizeAlone || agree < sizeTold) {
		return NoFit, nil
	}
	return OtherSize, stops
}

func within(a, b, by int) bool { return max(a-b, b-a) <= by }

func about(a, b int) bool { return within(a, b, samePlus+int(samePart*float64(max(a, b)))) }

// same reports whether two signs are of the same stitches.
func (s Sign) same(d Sign) bool {
	if len(s.Stops) != len(d.Stops) || !within(s.Width, d.Width, sameBox) || !within(s.Height, d.Height, sameBox) {
		return false
	}
	for i, a := range s.Stops {
		b := d.Stops[i]
		if !about(a.Points, b.Points) || !about(a.PathMM, b.PathMM) || !within(a.MeanX, b.MeanX, sameMean) || !within(a.MeanY, b.MeanY, sameMean) ||
			!within(a.SpreadX, b.SpreadX, sameMean) || !within(a.SpreadY, b.SpreadY, sameMean) {
			return false
		}
	}
	return true
}

// pair pairs the stops of two sizes in order so that as many as can be agree (the
// alignment of Needleman and Wunsch, J. Mol. Biol. 48, 1970, gaps costing nothing;
// of equals the one that leaves out the fewest in between).
func (s Sign) pair(d Sign) (stops []int, agree int) {
	stops = make([]int, len(s.Stops)+1)
	sizeS, sizeD := float64(max(s.Width, s.Height)), float64(max(d.Width, d.Height))
	if sizeS <= 0 || sizeD <= 0 || math.Abs(float64(s.Width)/sizeS-float64(d.Width)/sizeD) > sizeSide || math.Abs(float64(s.Height)/sizeS-float64(d.Height)/sizeD) > sizeSide {
		return stops, 0
	}
	n, m := len(s.Stops), len(d.Stops)
	alike := make([]bool, n*m)
	best := make([]int, (n+1)*(m+1))
	at := func(i, j int) *int { return &best[i*(m+1)+j] }
	for i := range n {
		for j := range m {
			alike[i*m+j] = s.Stops[i].alike(sizeS, d.Stops[j], sizeD)
			*at(i+1, j+1) = max(*at(i, j+1), *at(i+1, j))
			if alike[i*m+j] {
				*at(i+1, j+1) = max(*at(i+1, j+1), *at(i, j)+1)
			}
		}
	}
	for i, j := n, m; i > 0 && j > 0; {
		switch {
		case alike[(i-1)*m+j-1] && *at(i, j) == *at(i-1, j-1)+1:
			stops[i] = j
			i, j = i-1, j-1
		case *at(i, j) == *at(i-1, j):
			i--
		default:
			j--
		}
	}
	return stops, *at(n, m)
}

// alike reports whether two stops may be the same one of two sizes, whose longer
// sides are given in 0.1 mm.
func (a StopSign) alike(sizeA float64, b StopSign, sizeB float64) bool {
	sizeA, sizeB = sizeA/(10*signStep), sizeB/(10*signStep)
	for _, v := range [][2]int{{a.MeanX, b.MeanX}, {a.MeanY, b.MeanY}, {a.SpreadX, b.SpreadX}, {a.SpreadY, b.SpreadY}} {
		if math.Abs(float64(v[0])/sizeA-float64(v[1])/sizeB) > sizeMean {
			return false
		}
	}
	ratio := func(p, q float64) float64 { return max(p, q) / max(1e-9, min(p, q)) }
	stitch := func(s StopSign) float64 { return float64(s.PathMM+1) / float64(s.Points) }
	return ratio(stitch(a), stitch(b)) <= sizeStitch && ratio(float64(a.PathMM+1)/sizeA, float64(b.PathMM+1)/sizeB) <= sizeGrown*max(1, ratio(sizeA, sizeB))
}
