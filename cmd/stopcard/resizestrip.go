package main

import (
	"fmt"
	"io"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/render"
)

// draw writes the strip of one design.
func (c *resizing) draw(s *session, got *input) int {
	r := got.report
	if r.Resize == nil {
		s.complain("%s: it has no size, so no picture", got.path)
		return exitUsage
	}
	panels := stripScales(r)
	scales := make([]float64, len(panels))
	for i, p := range panels {
		scales[i] = p.Scale
	}
	stop, at, views, err := resize.CoverViews(got.ctx, got.known, r, c.in.Settings, scales)
	if err != nil {
		s.complain("%s: %v", got.path, err)
		return exitUsage
	}
	if stop == 0 {
		s.complain("%s: no satin, so there is no cover to show", got.path)
		return exitUsage
	}
	for i, v := range views {
		panels[i].Label += fmt.Sprintf("\nstop %d: %.0f %% covered\nstitches %.2f mm apart\nsatin %.1f mm wide", stop, 100*v.Coverage, v.PitchMM, v.WidthMM)
	}
	o := render.StripOptions{Stop: stop, At: at, Panels: panels, Laid: c.in.Settings.LaidWidth(), TrimMM: c.in.Settings.TrimAllowanceMM, Units: words.UnitsOf(&c.in.Settings), Context: got.ctx}
	img := render.Strip(got.design, r, o)
	if img == nil {
		s.complain("%s: %v", got.path, got.ctx.Err())
		return exitStopped
	}
	if err := s.deliver(c.picture, c.force, got.path, func(w io.Writer) error { return render.EncodePNG(w, img, render.StripDPI(o)) }); err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	return exitOK
}

// stripScales are the scales to show: the limits with the design as it is
// between, and the size asked for. Where nothing may be resized, a fifth more or less
// shows what happens past it.
func stripScales(r *report.Report) []render.StripPanel {
	z := r.Resize
	const past = 0.2
	smallest, largest := resize.RoundWithin(z.Smallest, report.Shrinking), resize.RoundWithin(z.Largest, report.Growing)
	out := []render.StripPanel{{Scale: smallest, Label: "smallest: " + resize.PercentWithin(z.Smallest, report.Shrinking)},
		{Scale: 1, Label: "as it is: 100 %"},
		{Scale: largest, Label: "largest: " + resize.PercentWithin(z.Largest, report.Growing)}}
	if smallest == 1 {
		out[0] = render.StripPanel{Scale: 1 - past, Label: "too small: " + resize.Percent(1-past)}
	}
	if largest == 1 {
		out[2] = render.StripPanel{Scale: 1 + past, Label: "too large: " + resize.Percent(1+past)}
	}
	if e := r.ResizedTo; e != nil && e.Scale != 1 {
		p := render.StripPanel{Scale: e.Scale, Label: "asked for: " + resize.Percent(e.Scale)}
		if e.Scale > 1 {
			return append(out, p)
		}
		out = append([]render.StripPanel{p}, out...)
	}
	return out
}
