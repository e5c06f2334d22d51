package match

import (
	"fmt"
	"image/color"

	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

// likeThread is how far, in CIEDE2000, two threads of one stop may lie apart. Formats
// with a fixed list of threads name the nearest, which may be some way off.
const (
	likeThread       = 5.0
	likeThreadFormat = 30.0
)

// coarseFormat has so short a list of threads that the nearest tells little of the thread
// that is meant: 29 colours.
const coarseFormat = "HUS"

// ColourWorth is how well the file tells the colours of its threads, from 0 for none to 3
// for any colour there is; formats with a list of threads name the nearest.
func (f *MatchedFile) ColourWorth() int {
	if !f.Coloured {
		return 0
	}
	if f.Format == coarseFormat {
		return 1
	}
	for _, of := range stitchfile.Formats() {
		if of.Name == f.Format && of.Carries.Colours == "rgb" {
			return 3
		}
	}
	return 2
}

// threads compares the threads of the stops: within a format from size to size, and
// loosely from format to format. Of each that differs from most it is told once.
func (p *Proof) threads(d *MatchedDesign) {
	usual := map[string][]*Signature{} // by format, the files that have the threads of most
	var formats []string
	for _, z := range d.Sizes {
		for _, f := range z.Files {
			if s := f.sign; s.threads() > 0 && usual[s.Format] == nil {
				formats = append(formats, s.Format)
				usual[s.Format] = p.threadsOf(d, s.Format)
			}
		}
	}
	var lead *Signature
	for _, format := range formats {
		s := usual[format][0]
		switch {
		case format == coarseFormat:
		case lead == nil:
			lead = s
		default:
			if stop := threadsApart(lead, s, likeThreadFormat); stop > 0 {
				p.oddThread(d, stop, s, lead, s.Format+" files", lead.Format+" files")
			}
		}
	}
}

// threadsOf compares the files of one format, the smallest size first, and gives those
// that have the threads of most.
func (p *Proof) threadsOf(d *MatchedDesign, format string) []*Signature {
	var alike [][]*Signature
next:
	for _, s := range d.files() {
		if s.Format != format || s.threads() == 0 {
			continue
		}
		for i, a := range alike {
			if threadsApart(a[0], s, likeThread) == 0 {
				alike[i] = append(a, s)
				continue next
			}
		}
		alike = append(alike, []*Signature{s})
	}
	most := 0
	for i := range alike {
		if len(alike[i]) > len(alike[most]) {
			most = i
		}
	}
	for i, odd := range alike {
		if i == most {
			continue
		}
		others := alike[most][0].file()
		if n := len(alike[most]); n > 1 {
			others = fmt.Sprintf("%d other %s files", n, format)
		}
		p.oddThread(d, threadsApart(alike[most][0], odd[0], likeThread), odd[0], alike[most][0], filesOf(odd), others)
	}
	return alike[most]
}

// oddThread tells of a stop's thread in one file or more that is not the usual one.
func (p *Proof) oddThread(d *MatchedDesign, stop int, odd, usual *Signature, here, there string) {
	x, y := *odd.colours[stop-1], *usual.colours[stop-1]
	a, _ := words.ParseHex(x)
	b, _ := words.ParseHex(y)
	names := words.ColourNames([]color.RGBA{a, b})
	p.note(Problem{Kind: OddThreads, Design: d.Name, SizeMM: &[2]float64{odd.WidthMM, odd.HeightMM}, Path: odd.Path,
		Message: fmt.Sprintf("stop %d has thread %s %s in %s, and %s %s in %s", stop, names[0], x, here, names[1], y, there),
		Advice:  "If one list of threads is to serve all sizes, give the stops one colour."})
}

// threadsApart is the first stop whose thread differs, or 0.
func threadsApart(a, b *Signature, limit float64) int {
	if len(a.colours) != len(b.colours) {
		return 0
	}
	for i := range a.colours {
		if a.colours[i] == nil || b.colours[i] == nil {
			continue
		}
		x, ok1 := words.ParseHex(*a.colours[i])
		y, ok2 := words.ParseHex(*b.colours[i])
		if ok1 && ok2 && words.CIEDE2000(words.LabOf(x), words.LabOf(y)) > limit {
			return i + 1
		}
	}
	return 0
}
