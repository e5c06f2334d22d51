package match

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// Schema names the JSON form of a Matching.
const Schema = "stopcard/match/1"

// Matching is what Match found: which files are one design, in which sizes.
type Matching struct {
	Schema     string              `json:"schema"`
	Designs    []MatchedDesign     `json:"designs"` // in the order of their first files
	Unreadable []report.Unreadable `json:"unreadable"`
	Complete   bool                `json:"complete"` // false: it was stopped before every file was read
}

// MatchedDesign is the files that are one design.
type MatchedDesign struct {
	Name     string           `json:"name"`  // from the file names
	Sizes    []MatchedSize    `json:"sizes"` // the smallest first
	Findings []report.Finding `json:"findings"`
}

// MatchedSize is the files of one size. Its figures are those of the edition
// that most of them hold.
type MatchedSize struct {
	WidthMM     float64         `json:"width_mm"`
	HeightMM    float64         `json:"height_mm"`
	Stitches    int             `json:"stitches"`
	ColourStops int             `json:"colour_stops"`
	Spacing     measure.Spacing `json:"spacing"`
	Verdict     report.Verdict  `json:"verdict"`
	Of          *[2]float64     `json:"of_mm"`      // size that the verdict compares it to, nil for none
	Factor      float64         `json:"factor"`     // its size over that one's; 0 for none
	Confidence  float64         `json:"confidence"` // in the verdict, 0 to 1
	Turned      string          `json:"turned"`     // how a copy lies over its original, in words; empty where straight
	Files       []MatchedFile   `json:"files"`

	lead *Signature
}

// MatchedFile is one file of a size.
type MatchedFile struct {
	Path     string `json:"path"`
	Format   string `json:"format"`
	Edition  int    `json:"edition"` // 1 for files with the needle points that most have, then 2, 3...
	CopyOf   string `json:"copy_of"` // the file that this edition is a stretched copy of; empty where it is none
	Trims    int    `json:"trims"`
	Coloured bool   `json:"coloured"` // it tells the colour of its threads
	Named    bool   `json:"named"`    // it has a name inside

	sign *Signature
}

const (
	sameSizeMM    = 0.7  // mm by which the boxes of one size may differ
	sameSizeShare = 0.01 // or this share
	anewWithin    = 0.08 // share by which spacing may differ between sizes digitised anew
	copyWithin    = 0.05 // share by which spacing may miss the sizes' ratio in a copy
)

// Match groups designs by what they look like. Two are one design if, laid over
// one another at one size, their stops can be paired in order and look alike:
// names only help where likeness is in doubt. Within a design files of one size
// are held against each other needle point by needle point, and sizes by their
// spacing: what was digitised anew keeps it, what was stretched does not. The only
// error is that of a context that ended.
func Match(ctx context.Context, signs []*Signature) (*Matching, error) {
	m := &Matching{Schema: Schema, Designs: []MatchedDesign{}, Unreadable: []report.Unreadable{}, Complete: true}
	callApart(signs)
	var groups [][]*Signature
	cut := map[*Signature][]report.Finding{} // of files that are the beginning of one
	for _, s := range signs {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if whole, stop := cutFrom(s, signs); whole != nil {
			cut[whole] = append(cut[whole], cutShort(s, whole, stop))
			continue
		}
		best, most := -1, 0.0
		for i, g := range groups {
			if ofAnotherBlock(g, s) {
				continue
			}
			for k, other := range g {
				// Files of one size need not all be asked.
				if k > 0 && slices.ContainsFunc(g[:k], func(e *Signature) bool { return e.Stitches == other.Stitches && sameSize(e, other) }) {
					continue
				}
				if share := alike(other, s); share > most {
					best, most = i, share
				}
			}
		}
		if best < 0 {
			groups = append(groups, []*Signature{s})
			continue
		}
		groups[best] = append(groups[best], s)
	}
	for _, g := range joinAkin(groups) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		d := matchDesign(g)
		for _, s := range g {
			d.Findings = append(d.Findings, cut[s]...)
		}
		report.NumberFindings(d.Findings)
		m.Designs = append(m.Designs, d)
	}
	return m, nil
}

// ofAnotherBlock reports whether a group holds another block of the series of which a file
// is one: their names count them, and files of one size are not the same.
func ofAnotherBlock(group []*Signature, s *Signature) bool {
	return slices.ContainsFunc(group, func(e *Signature) bool {
		return sameSize(e, s) && numberedApart(e, s) && alike(e, s) == 0
	})
}

// matchDesign sorts the files of one design into sizes and compares them.
func matchDesign(group []*Signature) MatchedDesign {
	d := MatchedDesign{Name: commonName(group), Findings: []report.Finding{}}
	sorted := slices.Clone(group)
	sort.SliceStable(sorted, func(i, j int) bool {
		a, b := sorted[i], sorted[j]
		return max(a.WidthMM, a.HeightMM) < max(b.WidthMM, b.HeightMM)
	})
	usual, cuts := usualStops(group), map[string]bool{}
	for len(sorted) > 0 {
		var same, rest []*Signature
		for _, s := range sorted {
			if sameSize(sorted[0], s) || onlyTurned(sorted[0], s) || sharesStops(sorted[0], s) {
				same = append(same, s)
			} else {
				rest = append(rest, s)
			}
		}
		size, findings := matchSize(same, usual, cuts)
		d.Sizes, d.Findings = append(d.Sizes, size), append(d.Findings, findings...)
		sorted = rest
	}
	judgeSizes(&d)
	report.NumberFindings(d.Findings)
	return d
}

// onlyTurned reports whether b has the stitches of a at the same size, turned or
// mirrored.
func onlyTurned(a, b *Signature) bool {
	l, ok := sameStitches(a, b)
	return ok && l.pointed && math.Abs(l.factor-1) <= sameSizeShare
}

func sameSize(a, b *Signature) bool {
	near := func(x, y float64) bool { return math.Abs(x-y) <= max(sameSizeMM, sameSizeShare*max(x, y)) }
	return near(a.WidthMM, b.WidthMM) && near(a.HeightMM, b.HeightMM)
}

// usualStops is how many colour stops most files of a design have, of two numbers the
// greater.
func usualStops(group []*Signature) int {
	files, usual := map[int]int{}, 0
	for _, s := range group {
		files[len(s.stops)]++
	}
	for n, k := range files {
		if k > files[usual] || k == files[usual] && n > usual {
			usual = n
		}
	}
	return usual
}

// matchSize compares the files of one size, of a design that usually has so many stops.
// Of a format whose files lack cuts it is told once, and kept in cuts.
func matchSize(same []*Signature, usual int, cuts map[string]bool) (MatchedSize, []report.Finding) {
	// Files with the same needle points are one edition.
	var editions [][]*Signature
next:
	for _, s := range same {
		for i, e := range editions {
			if differ(e[0], s) == nil {
				editions[i] = append(e, s)
				continue next
			}
		}
		editions = append(editions, []*Signature{s})
	}
	sort.SliceStable(editions, func(i, j int) bool {
		a, b := editions[i], editions[j]
		if len(a) != len(b) {
			return len(a) > len(b)
		}
		return len(a[0].stops) == usual && len(b[0].stops) != usual
	})
	lead := editions[0][0]
	size := MatchedSize{WidthMM: lead.WidthMM, HeightMM: lead.HeightMM, Stitches: lead.Stitches, ColourStops: len(lead.stops),
		Spacing: lead.Spacing, lead: lead}
	var out []report.Finding
	for i, e := range editions {
		for _, s := range e {
			size.Files = append(size.Files, MatchedFile{Path: s.Path, Format: s.Format, Edition: i + 1, Trims: s.Trims, Coloured: s.threads() > 0, Named: s.Name != "", sign: s})
			if i == 0 && s != lead && !cuts[s.Format] {
				told := trimsDiffer(lead, s)
				out, cuts[s.Format] = append(out, told...), len(told) > 0
			}
		}
		if i > 0 {
			f := differ(lead, e[0])
			if several := strings.NewReplacer("it has ", "they have ", "its needle", "their needle"); len(e) > 1 {
				f.Message = several.Replace(f.Message)
			}
			f.Message = fmt.Sprintf("%s: %s", filesOf(e), f.Message)
			out = append(out, *f)
		}
	}
	return size, out
}

// filesOf names the files of one edition.
func filesOf(e []*Signature) string {
	var names []string
	for _, s := range e {
		names = append(names, s.file())
	}
	if len(names) > 3 {
		names = append(names[:3], fmt.Sprintf("%d more", len(names)-3))
	}
	return strings.Join(names, ", ")
}

// firstOddStop is the number of the first stop of b, which varies so from a, that is not the
// partner of the stop of a with the same number.
func firstOddStop(a, b *Signature, v *variant) int {
	if len(v.lacking) > 0 {
		return v.lacking[0] + 1
	}
	pairs, _ := pairStops(a, b)
	for i := range b.stops {
		if i >= len(pairs) || pairs[i] != [2]int{i, i} {
			return i + 1
		}
	}
	return len(b.stops)
}

// trimsDiffer compares the trims of two files of one edition. Some formats have
// none and write jumps for them.
func trimsDiffer(a, b *Signature) []report.Finding {
	for i := range a.stops {
		if x, y := a.stops[i].trims, b.stops[i].trims; x != y {
			return []report.Finding{{Rule: "set-disagrees", Severity: report.Note, Stop: i + 1, Measured: float64(y), Limit: float64(x), Unit: "trims",
				Message: fmt.Sprintf("%s: the stitches agree with %s, but stop %d has %s there and %s here", b.file(), a.file(), i+1, words.Plural(x, "trim", "trims"), words.Plural(y, "trim", "trims")),
				Advice:  "Formats write cuts in different ways. Look whether your machine cuts by itself, and cut long threads by hand, machine stopped."}}
		}
	}
	return nil
}
