package resize

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/analyse/words"
)

// figureNames say what a limit's figure is a measure of.
var figureNames = map[string]string{
	"thin-cover": "cover", "thin-cover-stretch": "cover", "wide-satin": "width", "narrow-satin": "width",
	"long-stitch": "longest stitch", "short-stitch": "twentieth of the shortest stitches", "untrimmed-jump": "loose thread", "outside-hoop": "side",
	"open-outline": "opening", "tack-down-astray": "astray by", "drawn-in": "inside by", "edge-uncovered": "edge that shows",
	"crowded-needle": "crowding", "stacked-layers": "thread",
}

// Figure writes a figure that is in a limit's unit, lengths in the units given.
func Figure(v float64, unit string, u words.Units) string {
	switch unit {
	case "share":
		return fmt.Sprintf("%.0f %%", 100*v)
	case "mm":
		if v < 10 {
			return u.StitchTo(v, 2)
		}
		return u.StitchTo(v, 1)
	case "holes/mm2":
		return u.Holes(v)
	case "layers":
		return fmt.Sprintf("%.1f layers", v)
	}
	return fmt.Sprintf("%.3g %s", v, unit)
}

// RangeWords says how far a design may be resized, in whole percents.
func RangeWords(z *report.Resize) string {
	least, most := z.Percents()
	switch {
	case least == 100 && most == 100:
		return "Do not resize it either way: see below."
	case least == 100:
		return fmt.Sprintf("May grow to %d %%. Do not shrink it.", most)
	case most == 100:
		return fmt.Sprintf("May shrink to %d %%. Do not enlarge it.", least)
	}
	return fmt.Sprintf("May be resized from %d %% to %d %%.", least, most)
}

// LimitWords says where a limit lies and what becomes of its figure there.
func LimitWords(l *report.ResizeLimit, u words.Units) string {
	where := "whole design"
	switch {
	case l.Stop > 0 && l.Piece > 0:
		where = fmt.Sprintf("stop %d, piece %d", l.Stop, l.Piece)
	case l.Stop > 0:
		where = fmt.Sprintf("stop %d", l.Stop)
	}
	name := figureNames[l.Name]
	if l.Already {
		way := "larger"
		if l.Direction == report.Shrinking {
			way = "smaller"
		}
		return fmt.Sprintf("%s: already so, %s makes it worse: %s (%s %s, limit %s)", where, way, l.Reason, name, Figure(l.Now, l.Unit, u), Figure(l.Limit, l.Unit, u))
	}
	now, then, limit := Figure(l.Now, l.Unit, u), Figure(l.Measured, l.Unit, u), Figure(l.Limit, l.Unit, u)
	if l.Now > l.Limit && (l.Rule == rules.CrowdedRule.ID || l.Rule == rules.StackedRule.ID) {
		// The design as it is has a note of it.
		return fmt.Sprintf("%s: %s (%s %s as it is, on a spot so small that it sews well; limit %s)", where, l.Reason, name, now, limit)
	}
	if now == then { // at its limit as it is, but for what is not shown
		now = "just within"
	}
	return fmt.Sprintf("%s: %s (%s %s -> %s, limit %s)", where, l.Reason, name, now, then, limit)
}

// ofTheSize are the rules that go with the size alone, however the stitches are spaced.
var ofTheSize = []string{"wide-satin", "narrow-satin", "outside-hoop", "edge-uncovered", "open-outline", "tack-down-astray", "untrimmed-jump", "drawn-in"}

// recalculated says what a machine needs that makes stitches anew for a size, and what
// limits it then.
func recalculated(rec measure.Spacing, z *report.Resize, u words.Units) string {
	spacing := rec.Words(u)
	if spacing == "" {
		return ""
	}
	within := report.Resize{Smallest: report.ResizeFrom, Largest: report.ResizeTo}
	for _, l := range z.Limits {
		if l.Already || !slices.Contains(ofTheSize, l.Rule) {
			continue
		}
		if l.Direction == report.Growing {
			within.Largest = min(within.Largest, l.Scale)
		} else {
			within.Smallest = max(within.Smallest, l.Scale)
		}
	}
	least, most := within.Percents()
	keeps := "" // of what the design has
	switch satin, cover := rec.SatinPitchMM > 0, rec.OuterCoverMM > 0; {
	case satin && cover:
		keeps = "the satin keeps a width that can be sewn and still hides the cut edge"
	case satin:
		keeps = "the satin keeps a width that can be sewn"
	case cover:
		keeps = "the cover still hides the cut edge"
	}
	if keeps != "" {
		keeps = fmt.Sprintf(", and from %d %% to %d %% %s", least, most, keeps)
	}
	return fmt.Sprintf("A machine that recalculates its stitches must keep their spacing: %s. Cover, crowding and stitch length then stay as they are%s. "+
		"See in the machine's manual whether yours does.", spacing, keeps)
}
