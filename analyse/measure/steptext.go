package measure

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// stepText words a step for somebody who stands at the machine: what to do first,
// sizes last.
func (p *Pass) stepText(h *applique.HandStep) string {
	switch h.Kind {
	case report.StepLay:
		width, height := p.clothSize(h)
		text := layText(h)
		if h.Ask {
			text = "if your pattern lays cloth here (it may be plain stitching): " + text
		}
		text += ", at least " + p.units().Cut(width, height)
		if h.Manner == applique.OrEnvelope || h.Manner == applique.PerhapsEnvelope {
			text += envelope
		}
		return text
	case report.StepTrim:
		if h.Ask {
			return "if you laid cloth here: " + p.trimText(h)
		}
		return p.trimText(h)
	case report.StepHoopOff:
		return "machine stopped: take the hoop off, cloth still in the hoop"
	case report.StepTurnOver:
		return "turn the hoop over, underside up"
	case report.StepHoopOn:
		if h.Manner == applique.TurnedBack {
			return "turn the hoop back, face up, and put it on; see that nothing is folded under"
		}
		return "put the hoop back"
	case report.StepChangeThread:
		return "wash-away or basting thread will do for lines like this one: it is covered or taken out later"
	case report.StepMayEnd:
		if h.What == report.Backing {
			return "the block may end here if it will be backed some other way"
		}
		return "the block may end here if it will be quilted some other way"
	case report.StepNote:
		if h.After {
			return fmt.Sprintf("now stop %d, which covers piece %d", h.Other+1, h.Pieces[0])
		}
		return fmt.Sprintf("this covers piece %d before it is laid: the order cannot work; if your machine lets you choose, sew stop %d first", h.Pieces[0], h.Other+1)
	case report.StepTurnOut:
		return fmt.Sprintf("turn it right side out through the gap (%s), press it, and close the gap", p.units().One().Stretch(p.Scale*h.Gap))
	}
	return ""
}

// units are those in which people are told lengths.
func (p *Pass) units() words.Units { return words.UnitsOf(&p.Settings) }

func layText(h *applique.HandStep) string {
	switch h.What {
	case report.AppliqueCloth:
		n := h.Pieces[0]
		switch h.Manner {
		case applique.ToShape:
			return fmt.Sprintf("lay piece %d, cut to the line itself beforehand, inside its line (stop %d), and fix it: no tack-down comes; cloth to cut it from", n, h.Other+1)
		case applique.NoTrim:
			return fmt.Sprintf("lay piece %d, cut to its shape beforehand, inside its line (stop %d): no pause to trim comes before the satin; cloth to cut it from", n, h.Other+1)
		case applique.AfterCover:
			return fmt.Sprintf("if its cover is not sewn yet: lay the cloth of piece %d over its line (stop %d), right side up", n, h.Other+1)
		case applique.ByHand:
			return fmt.Sprintf("no pause comes for piece %d: when its line is sewn and the thread is cut, stop the machine by hand and lay the cloth over the line, right side up", n)
		case applique.WithoutPause:
			return fmt.Sprintf("no pause comes for piece %d: lay its cloth over the place now, right side up, generously; this stop sews its line and tacks it down in one go", n)
		}
		return fmt.Sprintf("lay the cloth of piece %d over its line (stop %d), right side up", n, h.Other+1)
	case report.BlockCloth:
		switch h.Manner {
		case applique.OverBatting:
			return "lay the block cloth over the batting, right side up"
		case applique.WithoutPause:
			return "lay the block cloth over the whole place now, right side up: this stop sews its outline and holds it without a pause between"
		}
		return "lay the block cloth over the whole outline, right side up"
	case report.Batting:
		switch h.Manner {
		case applique.OnUnderside:
			return "fix the batting to the underside, past the outline on all sides"
		case applique.WithoutPause:
			return "fix the batting to the underside now, past the outline on all sides: no pause comes for it"
		}
		return "lay the batting over the whole outline"
	}
	switch h.Manner {
	case applique.OnFront:
		return "lay the backing face down on the front, over the whole block"
	case applique.ByHand:
		return "no pause comes for the backing: when all but the last seam is sewn, stop the machine by hand and lay it face down on the front"
	case applique.WithoutPause:
		return "fix the backing over it now, right side out: the machine does not wait between the two"
	case applique.PerhapsNot, applique.PerhapsEnvelope:
		return "if your pattern has a backing: fix it to the underside, right side out, past the line on all sides"
	}
	return "fix the backing to the underside, right side out, past the line on all sides"
}

// envelope is the other way to back a block whose last seam closes inside its first lines.
const envelope = "; if the work is to be turned out (an envelope back): leave the hoop face up and lay the two folded halves face down on the front, overlapping"

func (p *Pass) trimText(h *applique.HandStep) string {
	const stitches = "do not cut the stitches"
	u := p.units()
	allowance := u.Within(p.Settings.TrimAllowanceMM)
	switch {
	case h.Manner == applique.BothSides:
		return fmt.Sprintf("cut the cloth above and below close along the line, %s or less: satin goes over both; %s", allowance, stitches)
	case h.Manner == applique.OnFront:
		return "trim all layers " + u.Pick("6 mm", "1/4 in") + " outside the seam and clip the corners; do not cut the seam"
	case h.What == report.Batting:
		return "trim the batting close to its line with large scissors; cut neither cloth nor stitches"
	}
	what := "the cloth"
	if len(h.Pieces) > 1 {
		what = fmt.Sprintf("all %d pieces", len(h.Pieces))
	}
	var text string
	switch h.Manner {
	case applique.AtLatest:
		if len(h.Pieces) == 1 {
			return fmt.Sprintf("if piece %d is not trimmed yet: hoop off, trim it now; this stop covers its edge", h.Pieces[0])
		}
		return fmt.Sprintf("if %s not trimmed yet: hoop off, trim them now; this stop covers their edges", words.Pieces(h.Pieces, "is", "are"))
	case applique.LeaveEdge:
		text = fmt.Sprintf("trim %s evenly outside the stitching, %s: the raw edge is meant to show; %s", what, u.Pick("2 to 3 mm", "about 1/8 in"), stitches)
	case applique.UnderCover:
		text = fmt.Sprintf("trim %s along its line (stop %d), which the underside shows, and not close to this stitching: it lies too far inside for the cover; %s", what, h.Other+1, stitches)
	case applique.AskHowClose:
		text = fmt.Sprintf("trim %s outside the stitching; no cover follows, so ask the pattern how close; %s", what, stitches)
	case applique.MayWait:
		text = fmt.Sprintf("trim %s close outside the stitching, %s or less; %s; or trim it later, before stop %d at the latest",
			what, allowance, stitches, h.Other+1)
	default:
		text = fmt.Sprintf("trim %s close outside the stitching, %s or less; %s", what, allowance, stitches)
	}
	if h.Holes > 0 {
		text += fmt.Sprintf("; cut the cloth away inside %s too", words.Plural(h.Holes, "inner line", "inner lines"))
	}
	return text
}
