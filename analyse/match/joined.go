package match

import (
	"fmt"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// joinMost bounds the stops that are looked at for some that were joined: each run of them
// is laid over each stop of the other.
const joinMost = 64

// joins lists, for each stop of b, the first of the stops of a that it sews in one, where
// b is a with some of its stops lost; nil where it is not.
func joins(a, b *Signature) []int {
	n, m := len(a.stops), len(b.stops)
	if m == 0 || m >= n || n > joinMost || !shapedAlike(a, b, 0) || a.whole.like(b.whole) < akinWhole {
		return nil
	}
	// The most that the first stops of a, put into so many runs, are like as many stops of b,
	// summed up, and where the last of those runs begins.
	like, from := make([][]float64, m+1), make([][]int, m+1)
	for j := range like {
		like[j], from[j] = make([]float64, n+1), make([]int, n+1)
	}
	for i := range n {
		run, joined := make(sketch, stopSketch*stopSketch), make(sketch, stopSketch*stopSketch)
		// Each run leaves a stop at least for each of the others.
		for to := i + 1; to <= min(n, i+1+n-m); to++ {
			a.stops[to-1].joinTo(run, joined)
			for j := max(0, i-(n-m)); j < min(i+1, m); j++ {
				if (j > 0) != (i > 0) || j > 0 && like[j][i] == 0 {
					continue
				}
				if v := joined.like(b.stops[j].sketch); v >= akinStop && like[j][i]+v > like[j+1][to] {
					like[j+1][to], from[j+1][to] = like[j][i]+v, i
				}
			}
		}
	}
	if like[m][n] < akinStops*float64(m) {
		return nil
	}
	first := make([]int, m)
	for j, to := m, n; j > 0; j-- {
		to = from[j][to]
		first[j-1] = to
	}
	return first
}

// joinTo adds the thread of a stop to a run of them, and sketches the run as finished does.
// A sketch is the root of the thread in each cell, by the same measure for the whole stop.
func (g *stopSign) joinTo(run, joined sketch) {
	var mm float64
	for _, of := range g.mm {
		mm += of
	}
	sum := 0.0
	for k, v := range g.sketch {
		run[k] += v * v * float32(mm)
		sum += float64(run[k])
	}
	if sum <= 0 {
		return
	}
	per := 1 / sum
	for k, v := range run {
		joined[k] = float32(math.Sqrt(float64(v) * per))
	}
}

// joinedFinding tells of a file or a size and another of which one sews stops of the other
// in one.
func joinedFinding(f *report.Finding, it, other string, a, b *Signature, v *variant) {
	lost, take := "it", "this one; take the other"
	full := a
	if v.fuller {
		lost, take, full = "that one", "that one; take this", b
	}
	f.Message = fmt.Sprintf("%s has %s where %s has %d: %s %s", it, words.Plural(len(b.stops), "colour stop", "colour stops"), other, len(a.stops), lost, runsOn(full, v.joined))
	f.Advice = fmt.Sprintf("The machine does not wait there for the hands or for another thread. Do not sew %s, or ask the maker.", take)
}

// runsOn says where there is no pause in a design that sews stops of the full one in one.
func runsOn(full *Signature, first []int) string {
	if len(first) == 1 {
		return "sews all of it without a pause"
	}
	var all []int // those that are joined to the one before
	for i := range full.stops {
		if !slices.Contains(first, i) {
			all = append(all, i+1)
		}
	}
	return "does not pause before what is sewn in " + words.ListStops(all) + " of the full one"
}
