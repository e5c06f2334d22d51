package analyse

import (
	"errors"
	"fmt"

	"github.com/stopcard/stopcard/stitchfile"
)

// Rule is one check. Its Check gives the findings, without their Rule field.
type Rule struct {
	ID    string // kebab-case
	Doc   string // what it finds, in one line
	Limit string // the limit in words, with where it comes from
	Check func(*Pass) []Finding
}

// Rules are the checks of Run, in order.
func Rules() []Rule {
	return []Rule{
		{ID: "header-disagrees", Doc: "the file's header and its stitches tell different figures",
			Limit: "any difference", Check: headerDisagrees},
		{ID: "damaged-file", Doc: "the file could only partly be read",
			Limit: "any damage", Check: func(*Pass) []Finding { return nil }},
		{ID: "outside-hoop", Doc: "the design does not fit the hoop given",
			Limit: "the hoop's field, turned by a quarter if that helps", Check: outsideHoop},
		{ID: "long-stitch", Doc: "a stitch so long that it snags",
			Limit: "9 mm (advised largest satin width, Printwear, February 2016); settable", Check: longStitch},
		{ID: "same-colour-pause", Doc: "hand work lies between two stops of one colour, where some machines run straight on",
			Limit: "equal colours", Check: sameColourPause},
	}
}

// Damage adds the damaged-file finding for the error that came with a partly
// read design. A nil error adds nothing.
func (r *Report) Damage(err error, claimed int) {
	if err == nil {
		return
	}
	f := Finding{Rule: "damaged-file", Severity: Fault, Unit: "stitches", Measured: float64(r.Stitches), Limit: float64(max(claimed, 0)),
		Message: fmt.Sprintf("only part of this file could be read: %d stitches (%v)", r.Stitches, err),
		Advice:  "Do not sew it. Copy the file again from where it was bought, or take another format from the pack."}
	var fe *stitchfile.FormatError
	if claimed >= 0 && errors.As(err, &fe) {
		f.Message = fmt.Sprintf("only part of this file could be read: %d stitches; the header claims %d records (%v)", r.Stitches, claimed, err)
	}
	r.Findings = append([]Finding{f}, r.Findings...)
}

func headerDisagrees(p *Pass) []Finding {
	c, n := p.Design.Claims, p.Design.Counts()
	var out []Finding
	say := func(what string, claimed, is int, unit string) {
		out = append(out, Finding{Severity: Note, Measured: float64(is), Limit: float64(claimed), Unit: unit,
			Message: fmt.Sprintf("the file's header says %d %s, its stitches say %d", claimed, what, is),
			Advice:  "Stopcard counts the stitches themselves. A machine may show the header's figure."})
	}
	// Writers count either the changes or the threads, which are one more.
	if c.ColourStops >= 0 && c.ColourStops != n.ColourStops && c.ColourStops != n.ColourStops+1 {
		say("colour changes", c.ColourStops, n.ColourStops, "changes")
	}
	if c.Stitches >= 0 && c.Stitches != n.Stitches {
		say("stitches", c.Stitches, n.Stitches, "stitches")
	}
	return out
}

func outsideHoop(p *Pass) []Finding {
	w, h := p.Settings.HoopWidthMM, p.Settings.HoopHeightMM
	r := p.Report
	if w <= 0 || h <= 0 || r.WidthMM <= w && r.HeightMM <= h {
		return nil
	}
	if r.WidthMM <= h && r.HeightMM <= w {
		return []Finding{{Severity: Note, Measured: r.WidthMM, Limit: w, Unit: "mm",
			Message: fmt.Sprintf("the design (%.1f x %.1f mm) fits the %.0f x %.0f mm hoop only when turned by a quarter", r.WidthMM, r.HeightMM, w, h),
			Advice:  "Turn the design on the machine, and lay the cloth to suit."}}
	}
	return []Finding{{Severity: Fault, Measured: r.WidthMM, Limit: w, Unit: "mm",
		Message: fmt.Sprintf("the design (%.1f x %.1f mm) does not fit the %.0f x %.0f mm hoop either way round", r.WidthMM, r.HeightMM, w, h),
		Advice:  "Take a smaller size from the pack, or a larger hoop."}}
}

func longStitch(p *Pass) []Finding {
	var out []Finding
	limit := p.Settings.Limit("long-stitch")
	for i := range p.Report.Stops {
		s := &p.Report.Stops[i]
		var worst float64
		var at Point
		n := 0
		p.eachSewn(i, func(_ int, from, to Point) {
			if l := distance(from, to); l > limit {
				n++
				if l > worst {
					worst, at = l, Point{(from.X + to.X) / 2, (from.Y + to.Y) / 2}
				}
			}
		})
		if n == 0 {
			continue
		}
		word := "stitches are"
		if n == 1 {
			word = "stitch is"
		}
		out = append(out, Finding{Severity: Caution, Stop: s.Number, AtMM: &[2]float64{at.X, at.Y}, Measured: worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("%d %s longer than %.0f mm, the longest %.1f mm", n, word, limit, worst),
			Advice:  "Long stitches snag in use and in the wash. Look at the place on the picture before you sew; do not enlarge this design."})
	}
	return out
}

// sameColourPause looks where hands must work between two stops. Without colours
// in the file there is nothing to compare, and the machine stops at every change.
func sameColourPause(p *Pass) []Finding {
	var out []Finding
	stops := p.Report.Stops
	for i := 1; i < len(stops); i++ {
		a, b := &stops[i-1], &stops[i]
		if a.Colour == nil || b.Colour == nil || *a.Colour != *b.Colour || len(a.After)+len(b.Before) == 0 {
			continue
		}
		out = append(out, Finding{Severity: Caution, Stop: b.Number, Unit: "colour",
			Message: fmt.Sprintf("stops %d and %d have the same colour, and there is hand work between them", a.Number, b.Number),
			Advice:  "Some machines join neighbouring stops of one colour and do not pause. Watch for the end of the first, or give one of them another colour on the machine."})
	}
	return out
}
