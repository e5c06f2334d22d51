package match

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/stopcard/stopcard/analyse/geom"
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
	slices.SortStableFunc(sorted, func(a, b *Signature) int {
		return cmp.Compare(max(a.WidthMM, a.HeightMM), max(b.WidthMM, b.HeightMM))
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
	slices.SortStableFunc(editions, func(a, b []*Signature) int {
		if x, y := len(a[0].stops) == usual, len(b[0].stops) == usual; len(a) == len(b) && x != y {
			if x {
				return -1
			}
			return 1
		}
		return len(b) - len(a)
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

// roundsTo is how far, in 0.1 mm, a needle point may lie off through rounding.
const roundsTo = 1

// differ compares two files of one size and tells how they differ: nil where the needle
// goes to the same places, up to a common offset, and stops after the same ones.
// Without a cut or a jump the formats hold the same holes.
func differ(a, b *Signature) *report.Finding {
	f := firstDifference(a, b)
	if f == nil || f.Unit == "role" {
		return f
	}
	if laid := onlyLaid(a, b); laid != nil {
		return laid
	}
	return f
}

// firstDifference tells where two files of one size first differ.
func firstDifference(a, b *Signature) *report.Finding {
	dx, dy := offset(a, b)
	same := func(p, q needlePoint) bool {
		return math.Abs(float64(q.x)-float64(p.x)-dx) <= roundsTo && math.Abs(float64(q.y)-float64(p.y)-dy) <= roundsTo
	}
	f := &report.Finding{Rule: "set-disagrees", Severity: report.Caution, Unit: "stitches", Advice: "These are different editions of one size. Use the files of one edition only, and ask the maker which is right."}
	if len(a.stops) != len(b.stops) {
		f.Severity, f.Unit, f.Measured, f.Limit = report.Fault, "stops", float64(len(b.stops)), float64(len(a.stops))
		f.Stop = firstOddStop(a, b)
		f.Message = fmt.Sprintf("it has %d colour stops where %s has %d; they first differ at stop %d", len(b.stops), a.file(), len(a.stops), f.Stop)
		f.Advice = "The steps by hand differ between these files. Do not go by the card of the other one; ask the maker which is right."
		return f
	}
	for i := range a.stops {
		p, q := a.pointsOf(i), b.pointsOf(i)
		n := min(len(p), len(q))
		k := 0
		for k < n && same(p[k], q[k]) {
			k++
		}
		if k == len(p) && k == len(q) {
			continue
		}
		f.Stop, f.Measured, f.Limit = i+1, float64(b.Stitches), float64(a.Stitches)
		f.Message = fmt.Sprintf("its needle points first differ from those of %s at stitch %d of stop %d (%d stitches in all, there %d)", a.file(), k+1, i+1, b.Stitches, a.Stitches)
		switch {
		case len(p) > 1 && samePath(p, q):
			away := math.Hypot(float64(q[0].x)-float64(p[0].x)-dx, float64(q[0].y)-float64(p[0].y)-dy) / 10
			f.Message = fmt.Sprintf("stop %d lies %s away from where it lies in %s", i+1, b.units.Small(away), a.file())
		case a.Stitches == b.Stitches:
			f.Message = fmt.Sprintf("its needle points first differ from those of %s at stitch %d of stop %d (%d stitches in both)", a.file(), k+1, i+1, a.Stitches)
		}
		if k < len(q) {
			f.AtMM = &geom.Place{(float64(q[k].x) - b.centreX()) / 10, (float64(q[k].y) - b.centreY()) / 10}
		}
		return f
	}
	for i := range a.stops {
		if x, y := a.stops[i].role, b.stops[i].role; x != y {
			f.Stop, f.Unit = i+1, "role"
			f.Message = fmt.Sprintf("stop %d is %s, in %s it is %s, though the stitches agree", i+1, y, a.file(), x)
			return f
		}
	}
	return nil
}

// onlyLaid tells of a file with the stitches of another that lie turned or mirrored, or
// come in another order.
func onlyLaid(a, b *Signature) *report.Finding {
	l, ok := sameStitches(a, b)
	if !ok || !l.pointed || math.Abs(l.factor-1) > sameSizeShare {
		return nil
	}
	how := l.turnWords()
	stop := 0
	for i, j := range l.order {
		if i != j {
			stop = j + 1
			if how != "" {
				how += " and "
			}
			how += fmt.Sprintf("with its stops in another order: stop %d is stop %d there", j+1, i+1)
			break
		}
	}
	if how == "" {
		return nil
	}
	return &report.Finding{Rule: "set-disagrees", Severity: report.Caution, Stop: stop, Unit: "stitches", Measured: float64(b.Stitches), Limit: float64(a.Stitches),
		Message: fmt.Sprintf("it has the stitches of %s, %s", a.file(), how),
		Advice:  "These are different editions of one size. Use the files of one edition only, and ask the maker which is right."}
}

func (s *Signature) centreX() float64 { return s.middleOf(func(p needlePoint) int32 { return p.x }) }
func (s *Signature) centreY() float64 { return s.middleOf(func(p needlePoint) int32 { return p.y }) }

func (s *Signature) middleOf(of func(needlePoint) int32) float64 {
	lo, hi := of(s.points[0]), of(s.points[0])
	for _, p := range s.points {
		lo, hi = min(lo, of(p)), max(hi, of(p))
	}
	return (float64(lo) + float64(hi)) / 2
}

// offset is by how much the points of b lie off those of a: the median over the
// points with the same number, or where those run apart early, over the first.
func offset(a, b *Signature) (dx, dy float64) {
	n := min(len(a.points), len(b.points))
	if n == 0 {
		return 0, 0
	}
	if len(a.points) != len(b.points) {
		n = min(n, 200)
	}
	const most = 1000
	step := max(1, n/most)
	var xs, ys []float64
	for i := 0; i < n; i += step {
		xs = append(xs, float64(b.points[i].x)-float64(a.points[i].x))
		ys = append(ys, float64(b.points[i].y)-float64(a.points[i].y))
	}
	return math.Round(geom.QuantileOf(xs, 0.5)), math.Round(geom.QuantileOf(ys, 0.5))
}

// firstOddStop is the number of the first stop of b that is not the partner of
// the stop of a with the same number.
func firstOddStop(a, b *Signature) int {
	if v, ok := varies(a, b); ok && len(v.lacking) > 0 {
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
