package match

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// stopsDiffer compares the stops of two sizes: their number, their order and how they
// lie.
func stopsDiffer(base, s *MatchedSize) []report.Finding {
	a, b := base.lead, s.lead
	where, other := "the size "+s.called(), base.called()
	if len(a.stops) != len(b.stops) {
		v, ok := varies(a, b)
		odd := firstOddStop(a, b, &v)
		f := report.Finding{Rule: "set-disagrees", Severity: report.Fault, Stop: odd, Measured: float64(len(b.stops)), Limit: float64(len(a.stops)), Unit: "stops",
			Message: fmt.Sprintf("%s has %s, %s has %d; they first differ at stop %d", where, words.Plural(len(b.stops), "colour stop", "colour stops"), other, len(a.stops), odd),
			Advice:  "The steps by hand differ between these sizes. Make a card for each, and do not go by the other's."}
		switch {
		case ok && v.joined != nil:
			joinedFinding(&f, where, other, a, b, &v)
		case ok && adornment(a, b, &v):
			f.Advice = otherNumbers
		}
		return []report.Finding{f}
	}
	if v, _ := varies(a, b); !v.straight() {
		return []report.Finding{liesOtherwise(where, other, &v)}
	}
	return nil
}

const otherNumbers = "The stops have other numbers in these sizes. Make a card for each, and do not go by the other's."

// adornment reports whether what one size has more than another is stitching alone, for
// which the hands do nothing.
func adornment(a, b *Signature, v *variant) bool {
	if v.fuller {
		a = b
	}
	return !slices.ContainsFunc(v.lacking, func(i int) bool {
		switch a.stops[i].role {
		case report.RoleDecoration, report.RoleStitching, report.RoleEdgeRun, report.RoleQuilting:
			return false
		}
		return true
	})
}

// sureRole is the confidence from which on two readings of a stop contradict each other;
// with less one of them is only a guess.
const sureRole = 0.5

// rolesDiffer compares what the stops of sizes with the same stops are for. What most
// sizes say is told of the others, of each once.
func rolesDiffer(d *MatchedDesign, base int) []report.Finding {
	like := []int{base}
	a := d.Sizes[base].lead
	for i := range d.Sizes {
		if b := d.Sizes[i].lead; i != base && len(b.stops) == len(a.stops) {
			if v, _ := varies(a, b); v.order == nil {
				like = append(like, i)
			}
		}
	}
	slices.Sort(like)
	var out []report.Finding
	told := map[int]bool{}
	for k := range a.stops {
		by := map[string][]int{}
		var roles []string // in the order of sizes
		for _, i := range like {
			r := d.Sizes[i].lead.stops[k].role
			if by[r] == nil {
				roles = append(roles, r)
			}
			by[r] = append(by[r], i)
		}
		most := a.stops[k].role
		for _, r := range roles {
			if len(by[r]) > len(by[most]) {
				most = r
			}
		}
		for _, r := range roles {
			odd := slices.DeleteFunc(slices.Clone(by[r]), func(i int) bool { return told[i] })
			if r == most || len(odd) == 0 {
				continue
			}
			for _, i := range odd {
				told[i] = true
			}
			out = append(out, roleDiffers(d, k, odd, by[most], r, most))
		}
	}
	return out
}

// roleDiffers tells of the sizes in which a stop is read otherwise than in most.
func roleDiffers(d *MatchedDesign, stop int, odd, most []int, is, was string) report.Finding {
	name := func(all []int) string {
		var names []string
		for _, i := range all {
			names = append(names, d.Sizes[i].called())
		}
		return words.List(names)
	}
	sure := func(all []int) bool {
		return slices.ContainsFunc(all, func(i int) bool { return d.Sizes[i].lead.stops[stop].sure >= sureRole })
	}
	where, there := "the size "+name(odd), name(most)
	if len(odd) > 1 {
		where = "the sizes " + name(odd)
	}
	if len(most) > 2 {
		there = fmt.Sprintf("the %d others", len(most))
	}
	f := report.Finding{Rule: "set-disagrees", Severity: report.Caution, Stop: stop + 1, Unit: "role",
		Message: fmt.Sprintf("%s: stop %d looks like %s, in %s like %s", where, stop+1, is, there, was),
		Advice:  "Look at both stops on the picture; the hand steps round them may differ."}
	if !sure(odd) || !sure(most) {
		f.Severity = report.Note
		f.Advice = "One of the two is a guess. Look at both stops on the picture, and say in the notes what the stop is for."
	}
	return f
}

// liesOtherwise tells of a size that lies turned or mirrored, or comes in another order.
func liesOtherwise(where, other string, v *variant) report.Finding {
	f := report.Finding{Rule: "set-disagrees", Severity: report.Caution}
	switch {
	case v.order != nil:
		for i, j := range v.order {
			if i != j {
				f.Stop, f.Measured, f.Limit, f.Unit = i+1, float64(j+1), float64(i+1), "stop"
				break
			}
		}
		f.Message = fmt.Sprintf("%s sews its stops in another order than %s: stop %d there is stop %d here", where, other, f.Stop, v.order[f.Stop-1]+1)
		f.Advice = otherNumbers
	case v.mirrored:
		f.Unit = "lie"
		f.Message = fmt.Sprintf("%s is the mirror image of %s%s", where, other, v.turnedToo())
		f.Advice = "Ask the maker whether it is meant to be the other way round."
	default:
		f.Severity, f.Unit = report.Note, "lie"
		f.Message = fmt.Sprintf("%s lies %s, compared with %s", where, v.turnWords(), other)
		f.Advice = "See that it lies in the hoop as you want it, and lay directional cloth to suit."
	}
	return f
}
