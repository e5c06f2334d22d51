package rules

import (
	"errors"
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

var (
	headerDisagreesRule = Rule{ID: "header-disagrees", Doc: "the file's header and its stitches tell different figures",
		Limit: "any difference", Check: headerDisagrees}
	damagedFileRule = Rule{ID: "damaged-file", Doc: "the file could only partly be read",
		Limit: "any damage", Check: func(*measure.Pass) []report.Finding { return nil }}
	emptyStopRule = Rule{ID: "empty-stop", Doc: "the machine stops where there is nothing to sew before the next stop",
		Limit: "any, between the first stop and the last", Check: emptyStop}
	OutsideHoopRule = Rule{ID: "outside-hoop", Doc: "the design does not fit the hoop given",
		Limit: "the hoop's field, turned by a quarter if that helps", Check: outsideHoop}
)

// Damage adds to r the damaged-file finding for the error that came with a partly
// read design. A nil error adds nothing.
func Damage(r *report.Report, err error, claimed int) {
	if err == nil {
		return
	}
	var entry *stitchfile.EntryError
	if errors.As(err, &entry) {
		err = entry.Err // the report has its path already
	}
	f := report.Finding{Rule: "damaged-file", Severity: report.Fault, Unit: "stitches", Measured: float64(r.Stitches), Limit: float64(max(claimed, 0)),
		Message: fmt.Sprintf("this file is damaged: %v", err),
		Advice:  "Do not sew it. Copy the file again from where it was bought, or take another format from the pack."}
	r.Findings = append([]report.Finding{f}, r.Findings...)
}

func headerDisagrees(p *measure.Pass) []report.Finding {
	c, n := p.Sewn.Design.Claims, p.Sewn.Design.Counts()
	var out []report.Finding
	say := func(what string, claimed, is int, unit string) {
		out = append(out, report.Finding{Severity: report.Note, Measured: float64(is), Limit: float64(claimed), Unit: unit,
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

// emptyStop tells of parts that sew nothing. Before the first stop and after the
// last they are how some writers begin and end a file.
func emptyStop(p *measure.Pass) []report.Finding {
	var out []report.Finding
	for _, after := range p.Sewn.Empty {
		if after < 1 || after >= len(p.Report.Stops) {
			continue
		}
		if n := len(out); n > 0 && out[n-1].Stop == after+1 {
			out[n-1].Measured++
			continue
		}
		out = append(out, report.Finding{Severity: report.Note, Stop: after + 1, Measured: 1, Unit: "stops"})
	}
	for i := range out {
		f := &out[i]
		n := int(f.Measured)
		often := "once"
		if n > 1 {
			often = fmt.Sprintf("%d times", n)
		}
		f.Message = fmt.Sprintf("between stops %d and %d the machine stops %s with nothing to sew", f.Stop-1, f.Stop, often)
		f.Advice = fmt.Sprintf("Go on to the next thread. From here on the machine's own numbers may run %d ahead of those on the card.", n)
	}
	return out
}

func outsideHoop(p *measure.Pass) []report.Finding {
	w, h := p.Settings.HoopWidthMM, p.Settings.HoopHeightMM
	r := p.Report
	if w <= 0 || h <= 0 || r.WidthMM <= w && r.HeightMM <= h {
		return nil
	}
	if r.WidthMM <= h && r.HeightMM <= w {
		return []report.Finding{{Severity: report.Note, Measured: r.WidthMM, Limit: w, Unit: "mm",
			Message: fmt.Sprintf("the design (%.1f x %.1f mm) fits the %.0f x %.0f mm hoop only when turned by a quarter", r.WidthMM, r.HeightMM, w, h),
			Advice:  "Turn the design on the machine, and lay the cloth to suit."}}
	}
	return []report.Finding{{Severity: report.Fault, Measured: r.WidthMM, Limit: w, Unit: "mm",
		Message: fmt.Sprintf("the design (%.1f x %.1f mm) does not fit the %.0f x %.0f mm hoop either way round", r.WidthMM, r.HeightMM, w, h),
		Advice:  "Take a smaller size from the pack, or a larger hoop."}}
}
