package match

import (
	"fmt"
	"math"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// unknownKin stands for a size of which nobody can tell whether it was drawn.
const unknownKin = -1

// kinship is which sizes have the same stitches, and which of them were drawn.
type kinship struct {
	sizes      []MatchedSize
	over       map[[2]int]laidOver // how the second lies over the first, both ways
	group      []int               // by size, the first size with the same stitches
	drawn      []int               // by size, the one it was made of: itself where it was drawn
	confidence []float64
}

func kinOf(sizes []MatchedSize) *kinship {
	k := &kinship{sizes: sizes, over: map[[2]int]laidOver{}, group: make([]int, len(sizes)), drawn: make([]int, len(sizes)), confidence: make([]float64, len(sizes))}
	for i := range sizes {
		k.group[i], k.drawn[i], k.confidence[i] = i, i, 1
		for j := range i {
			l, ok := sameStitches(sizes[j].lead, sizes[i].lead)
			if !ok {
				continue
			}
			k.over[[2]int{j, i}] = l
			if back, ok := sameStitches(sizes[i].lead, sizes[j].lead); ok {
				k.over[[2]int{i, j}] = back
			}
			k.group[i] = min(k.group[i], k.group[j])
		}
	}
	return k
}

// members are the sizes with the stitches of a group.
func (k *kinship) members(group int) []int {
	var out []int
	for i, g := range k.group {
		if g == group {
			out = append(out, i)
		}
	}
	return out
}

// findDrawn decides in each group of copies which was drawn.
func (k *kinship) findDrawn() {
	for g := range k.sizes {
		all := k.members(g)
		if len(all) < 2 {
			continue
		}
		best, second := unknownKin, unknownKin
		score := map[int]float64{}
		for _, i := range all {
			score[i] = weigh(k.measured(i, all), k.siblings(g, i))
			for _, j := range all {
				if l, ok := k.over[[2]int{i, j}]; ok && j != i {
					score[i] += roundingIs * float64(roundedFrom(k.sizes[i].lead, k.sizes[j].lead, &l)) / 2
				}
			}
			switch {
			case best < 0 || score[i] > score[best]:
				best, second = i, best
			case second < 0 || score[i] > score[second]:
				second = i
			}
		}
		lead := score[best] - score[second]
		for _, i := range all {
			k.drawn[i], k.confidence[i] = best, confidenceOf(lead)
			if _, laid := k.over[[2]int{best, i}]; lead < clearLead || i != best && !laid {
				k.drawn[i] = unknownKin
			}
		}
	}
}

// measured is the spacing of size i as far as it can be relied on: a measure that does
// not go with the size among copies was taken of something else there.
func (k *kinship) measured(i int, group []int) *measure.Spacing {
	out := k.sizes[i].Spacing
	for _, m := range []*float64{&out.SatinPitchMM, &out.RunStitchMM, &out.FillSpacingMM} {
		for _, j := range group {
			l, laid := k.over[[2]int{i, j}]
			if !laid {
				continue
			}
			other := k.sizes[j].Spacing
			v := map[*float64]float64{&out.SatinPitchMM: other.SatinPitchMM, &out.RunStitchMM: other.RunStitchMM, &out.FillSpacingMM: other.FillSpacingMM}[m]
			if *m > 0 && (v <= 0 || math.Abs(math.Log(v / *m / l.factor)) > agreeWithin) {
				*m = 0
			}
		}
	}
	return &out
}

// siblings are the values of the sizes outside a group, by measure: of a size alone its
// own, of another group those of the member that agrees best with size i, since one of
// them was drawn.
func (k *kinship) siblings(group, i int) (out [3][]float64) {
	own := k.sizes[i].Spacing.Sizes()
	for g := range k.sizes {
		if g == group {
			continue
		}
		all := k.members(g)
		if len(all) == 0 {
			continue
		}
		for m := range out {
			near := 0.0
			for _, j := range all {
				if v := k.sizes[j].Spacing.Sizes()[m]; v > 0 && own[m] > 0 && (near == 0 || math.Abs(math.Log(v/own[m])) < math.Abs(math.Log(near/own[m]))) {
					near = v
				}
			}
			if near > 0 {
				out[m] = append(out[m], near)
			}
		}
	}
	return out
}

// reference is the size that the others are held against: of those that were drawn, or
// may have been, the one with the most usual spacing; of two alike the one with most
// files, then the smallest.
func (k *kinship) reference() int {
	const alike = 0.5 // log odds
	best, most := -1, 0.0
	for i := range k.sizes {
		if k.drawn[i] != i {
			continue
		}
		w := weigh(&k.sizes[i].Spacing, k.siblings(k.group[i], i))
		if best < 0 || w > most+alike || w > most-alike && len(k.sizes[i].Files) > len(k.sizes[best].Files) {
			best, most = i, w
		}
	}
	return max(best, 0)
}

// undecided tells of sizes with the same stitches of which nobody can say which was
// drawn.
func (k *kinship) undecided() []report.Finding {
	var out []report.Finding
	for g := range k.sizes {
		all := k.members(g)
		if len(all) < 2 || k.drawn[all[0]] != unknownKin {
			continue
		}
		var sizes []string
		for _, i := range all {
			sizes = append(sizes, k.sizes[i].called())
		}
		out = append(out, report.Finding{Rule: "stretched-copy", Severity: report.Caution, Measured: float64(len(all)), Limit: 1, Unit: "sizes",
			Message: fmt.Sprintf("the sizes %s have the same stitches: one was drawn and the others are stretched, and which cannot be told from the stitches", words.List(sizes)),
			Advice:  "Sew a trial piece of the one you want before you cut good cloth, or ask the maker which was drawn."})
	}
	return out
}
