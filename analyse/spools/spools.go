package spools

import (
	"slices"
	"sort"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

const (
	// sameWithin and closeWithin are the differences by CIEDE2000 up to which a
	// thread is called the same as, or close to, a colour of a design. About 1 is
	// the least that is seen under a lamp made for it, and thread's own sheen hides
	// twice that; colour words lie 7 apart and more. Common practice of colour
	// matching, no single source.
	sameWithin  = 2.5
	closeWithin = 7.0

	// sameWeight is how far two weight numbers may lie apart and still lay alike.
	sameWeight = 0.25 // as a share

	// mostThreads bounds the box; more are no box.
	mostThreads = 5000
)

// Need is a colour that a thread is wanted for.
type Need struct {
	Colour words.Lab
	Beside []int // needs that lie beside it in the design and differ from it
}

// Choice is the thread for a Need.
type Choice struct {
	Thread     int     // index in the box, -1 where the box is empty
	Difference float64 // CIEDE2000
	Shared     bool    // a need beside it has the same thread, for want of another, and neither is off
}

// Near says how near a thread is whose colour differs so much, by CIEDE2000.
func Near(difference float64) report.Nearness {
	switch {
	case difference <= sameWithin:
		return report.NearSame
	case difference <= closeWithin:
		return report.NearClose
	}
	return report.NearOff
}

// Choose picks the nearest thread of the box for each need, the best fitting pairs
// first, and never the same for two needs beside each other unless there is no
// other. Threads of another weight than the given one are taken only where the box
// has none of it; a weight of 0 is any.
func Choose(needs []Need, box []report.OwnThread, weight float64) []Choice {
	labs := make([]words.Lab, 0, len(box))
	index := make([]int, 0, len(box))
	for _, strict := range []bool{true, false} {
		for i, t := range box[:min(len(box), mostThreads)] {
			c, ok := words.ParseHex(t.Colour)
			if ok && (!strict || t.Weight == 0 || weight == 0 || max(t.Weight, weight) <= (1+sameWeight)*min(t.Weight, weight)) {
				labs, index = append(labs, words.LabOf(c)), append(index, i)
			}
		}
		if len(labs) > 0 {
			break
		}
	}
	out := slices.Repeat([]Choice{{Thread: -1}}, len(needs))
	if len(labs) == 0 {
		return out
	}
	type pair struct {
		need, lab int
		d         float64
	}
	var pairs []pair
	for n := range needs {
		for l := range labs {
			pairs = append(pairs, pair{n, l, words.CIEDE2000(needs[n].Colour, labs[l])})
		}
	}
	sort.SliceStable(pairs, func(i, j int) bool { return pairs[i].d < pairs[j].d })
	taken := func(n, thread int) bool {
		return slices.ContainsFunc(needs[n].Beside, func(m int) bool { return out[m].Thread == thread })
	}
	for _, sharing := range []bool{false, true} {
		for _, p := range pairs {
			thread := index[p.lab]
			if out[p.need].Thread >= 0 || !sharing && taken(p.need, thread) {
				continue
			}
			out[p.need] = Choice{Thread: thread, Difference: p.d}
		}
	}
	// Where the whole box is of other colours, the nearest of it is told, whatever lies beside.
	nearest := make([]bool, len(needs))
	for _, p := range pairs {
		if !nearest[p.need] && p.d > closeWithin {
			out[p.need] = Choice{Thread: index[p.lab], Difference: p.d}
		}
		nearest[p.need] = true
	}
	// What is another colour altogether will not be sewn with it, and shares nothing.
	for n := range out {
		c := &out[n]
		c.Shared = c.Difference <= closeWithin && slices.ContainsFunc(needs[n].Beside, func(m int) bool { return out[m].Thread == c.Thread && out[m].Difference <= closeWithin })
	}
	return out
}
