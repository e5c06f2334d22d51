package main

import (
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// hooped is a row of the brief table with a hoop.
type hooped struct {
	report *report.Report
	sign   *match.Signature
	hoop   words.Hoop
	near   bool // of its design the size nearest to the hoop
}

// slimRow is what a row shows of a report.
func slimRow(r *report.Report) *report.Report {
	return &report.Report{Path: r.Path, WidthMM: r.WidthMM, HeightMM: r.HeightMM, Stitches: r.Stitches, ColourStops: r.ColourStops, Minutes: r.Minutes, MachineMin: r.MachineMin, Findings: r.Findings}
}

// writeHooped writes the rows with what fits the hoop and, of each design in several
// sizes, which is the nearest: the largest that fits, or where none does the smallest.
func writeHooped(s *session, l layout, rows []*hooped) {
	if len(rows) == 0 {
		return
	}
	if len(rows) <= mostChosen {
		nearestOf(s, rows)
	}
	l.briefHead(s.stdout, s.width(), true)
	for _, row := range rows {
		l.briefRow(s.stdout, s.width(), s.columns > 0, row.report, row.words())
	}
}

func nearestOf(s *session, rows []*hooped) {
	by := map[string]*hooped{}
	var signs []*match.Signature
	for _, row := range rows {
		by[row.report.Path] = row
		signs = append(signs, row.sign)
	}
	for _, d := range s.matched(signs).Designs {
		if len(d.Sizes) < 2 {
			continue
		}
		near := &d.Sizes[0] // the smallest first
		for i := range d.Sizes {
			z := &d.Sizes[i]
			if ok, _ := rows[0].hoop.Holds(z.WidthMM, z.HeightMM); ok && z.Verdict != report.StretchedCopy {
				near = z
			}
		}
		for _, f := range near.Files {
			by[f.Path].near = true
		}
	}
}

// words says whether the design fits.
func (h *hooped) words() string {
	text := "no"
	if ok, turned := h.hoop.Holds(h.report.WidthMM, h.report.HeightMM); turned {
		text = "turned"
	} else if ok {
		text = "fits"
	}
	if h.near {
		text += ", nearest"
	}
	return text
}
