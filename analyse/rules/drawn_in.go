package rules

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

// DrawnInRule is the rule drawn-in.
var DrawnInRule = Rule{
	ID:       "drawn-in",
	Doc:      "after stitching that draws the cloth in, a hold-down lies inside the first outline instead of outside it",
	Severity: report.Caution,
	Limits:   limits("drawn-in"),
	Requires: []*measure.Step{measure.Roles},
	Check:    drawnIn,
}

const (
	drawnInGrid  = 0.15 // mm: formats round to 0.1 mm, and two lines may round apart
	insetLeast   = 2.0  // mm: batting that lies inside by so much on every side
	insetUneven  = 1.0  // mm: and as much on one as on the other, is meant to keep out of the seam; so is a last seam, which hides the lines before it when the work is turned out
	drawsInLeast = 0.2  // m of satin or fill between the two lines; less draws nothing in
)

func drawnIn(p *Pass) []report.Finding {
	limit := p.Limit("drawn-in")
	var out []report.Finding
	drawing := p.drawingM()
	for _, o := range p.Report.HoldDownOffsets {
		worst := min(o.Left, o.Right, o.Bottom, o.Top)
		if worst >= -limit-drawnInGrid || drawing(o.OutlineStop, o.Stop) < drawsInLeast {
			continue
		}
		least, role := max(o.Left, o.Right, o.Bottom, o.Top), p.Report.Stops[o.Stop-1].Role
		if role == report.RoleBattingHoldDown && least <= -insetLeast && least-worst <= insetUneven {
			continue
		}
		if role == report.RoleBackingHoldDown && o.Stop == len(p.Report.Stops) && least < 0 && least-worst <= insetUneven {
			continue
		}
		side := "left"
		switch worst {
		case o.Right:
			side = "right"
		case o.Bottom:
			side = "near"
		case o.Top:
			side = "far"
		}
		out = append(out, report.Finding{Severity: report.Caution, Stop: o.Stop, Measured: -worst, Limit: limit, Unit: "mm",
			Message: fmt.Sprintf("the hold-down of stop %d lies %s inside the first outline (stop %d) on the %s side", o.Stop, p.units().Stitch(-worst), o.OutlineStop, side),
			Advice:  "Stitching draws the cloth in, so later lines should lie outside the first. Cut cloth, batting and backing larger, and trim the block after the last line."})
	}
	return out
}

// drawingM gives how much satin and fill is sewn between two stops, in m of thread.
func (p *Pass) drawingM() func(after, before int) float64 {
	upTo := make([]float64, len(p.Report.Stops)+1) // by stop number, mm
	for i := range p.Report.Passages {
		if g := &p.Report.Passages[i]; g.Kind == report.KindSatin || g.Kind == report.KindFill {
			upTo[g.Stop] += g.LengthMM
		}
	}
	for i := 1; i < len(upTo); i++ {
		upTo[i] += upTo[i-1]
	}
	return func(after, before int) float64 { return (upTo[max(after, before-1)] - upTo[after]) / 1000 }
}
