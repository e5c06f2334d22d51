package match

import (
	"math"
	"sort"

	"github.com/stopcard/stopcard/analyse/report"
)

const (
	asWanted     = 0.01 // share by which a size may differ from the one wanted
	worthNearing = 0.02 // share by which another size must be nearer to be worth taking
)

// Others lists the other sizes of the design that a file holds, with the scale
// from each to the size of that file blown up by the given factor: the nearest
// first. Stretched copies are left out, since they gain nothing. Files of the same
// format come before others of one size.
func (m *Matching) Others(path string, scale float64) []report.OtherSize {
	out := []report.OtherSize{}
	for i := range m.Designs {
		d := &m.Designs[i]
		own, format := -1, ""
		for k, z := range d.Sizes {
			for _, f := range z.Files {
				if f.Path == path {
					own, format = k, f.Format
				}
			}
		}
		if own < 0 {
			continue
		}
		want := scale * max(d.Sizes[own].WidthMM, d.Sizes[own].HeightMM)
		for k := range d.Sizes {
			z := &d.Sizes[k]
			if k == own || z.Verdict == report.StretchedCopy {
				continue
			}
			o := report.OtherSize{Path: z.Files[0].Path, WidthMM: z.WidthMM, HeightMM: z.HeightMM, Verdict: z.Verdict, Scale: want / max(z.WidthMM, z.HeightMM)}
			for _, f := range z.Files {
				if f.Format == format && f.Edition == 1 {
					o.Path = f.Path
					break
				}
			}
			if math.Abs(math.Log(o.Scale)) <= math.Log(1+asWanted) {
				o.Scale = 1
			}
			out = append(out, o)
		}
		sort.SliceStable(out, func(i, j int) bool {
			return math.Abs(math.Log(out[i].Scale)) < math.Abs(math.Log(out[j].Scale))
		})
		return out
	}
	return out
}

// Nearer gives the size of Others to take in place of resizing a file by the scale: the
// one that must be resized least of those that may be by their own limits, which holds
// tells by path and scale; or where none may, the one that must be resized least. It
// is nil where the file itself holds and needs no more than they do.
func (m *Matching) Nearer(path string, scale float64, holds func(path string, scale float64) bool) *report.OtherSize {
	need := func(scale float64) float64 { return math.Abs(math.Log(scale)) }
	own := holds(path, scale)
	var least *report.OtherSize
	all := m.Others(path, scale)
	for i := range all {
		o := &all[i]
		o.Holds = o.Scale == 1 || holds(o.Path, o.Scale)
		switch {
		case o.Holds && (!own || need(o.Scale) <= need(scale)-worthNearing):
			return o
		case own:
		case least == nil && need(o.Scale) <= need(scale)-worthNearing:
			least = o
		}
	}
	return least
}
