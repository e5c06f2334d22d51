package engine

import (
	"bytes"
	"context"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/render"
)

// Row is one design in the list of what was read.
type Row struct {
	Path     string  `json:"path"`
	Format   string  `json:"format"`
	WidthMM  float64 `json:"width_mm"`
	HeightMM float64 `json:"height_mm"`
	Stitches int     `json:"stitches"`
	Stops    int     `json:"stops"`
	Time     string  `json:"time"`
	Hoop     string  `json:"hoop"` // whether it fits the person's hoop, or which it needs
	Fits     bool    `json:"fits"` // the person's hoop holds it
	Faults   int     `json:"faults"`
	Warnings int     `json:"warnings"`
	Damage   string  `json:"damage"` // what was lost of the file, empty for nothing
	Key      string  `json:"key"`    // of its stitches
}

// List tells of every design that was read, in the order of the files, and of what
// could not be read.
type List struct {
	Designs    []Row               `json:"designs"`
	Unreadable []report.Unreadable `json:"unreadable"`
	Open       string              `json:"open"` // the path to show first: the largest that fits the hoop
}

// List lists what was read.
func (e *Engine) List(ctx context.Context) (*List, error) {
	if err := e.fresh(ctx); err != nil {
		return nil, err
	}
	s := e.Settings()
	own := words.Hoop{WidthMM: s.HoopWidthMM, HeightMM: s.HoopHeightMM}
	out := &List{Designs: []Row{}, Unreadable: append([]report.Unreadable{}, e.lost...)}
	best, bestArea := false, -1.0
	for _, it := range e.designs {
		r := it.report
		row := Row{Path: it.path, Format: r.Format, WidthMM: r.WidthMM, HeightMM: r.HeightMM, Stitches: r.Stitches,
			Stops: r.ColourStops, Time: words.TimeWords(r.Minutes), Key: render.ContentKey(it.design)}
		ok, turned := own.Holds(r.WidthMM, r.HeightMM)
		switch {
		case !own.Given():
			row.Hoop = words.HoopFor(r.WidthMM, r.HeightMM)
		case ok && turned:
			row.Hoop = "fits, turned by a quarter"
		case ok:
			row.Hoop = "fits"
		default:
			row.Hoop = "does not fit"
		}
		row.Fits = ok
		for _, f := range r.Findings {
			switch f.Severity {
			case report.Fault:
				row.Faults++
			case report.Caution:
				row.Warnings++
			}
		}
		if it.err != nil {
			row.Damage = it.err.Error()
		}
		if area := r.WidthMM * r.HeightMM; ok && !best || ok == best && area > bestArea {
			out.Open, best, bestArea = it.path, ok, area
		}
		out.Designs = append(out.Designs, row)
	}
	return out, nil
}

// JSON is the document that 'stopcard check --json' prints for the same files.
func (e *Engine) JSON(ctx context.Context) ([]byte, error) {
	if err := e.fresh(ctx); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	doc := render.NewDocument(&out, e.Settings())
	for _, it := range e.designs {
		r := *it.report
		r.Resize, r.ResizedTo = nil, nil // asked for by another verb
		text, err := render.EncodeReport(&r)
		if err != nil {
			return nil, err
		}
		doc.Design(text)
	}
	err := doc.End(e.lost, true)
	return out.Bytes(), err
}

// Page is the page of one design.
func (e *Engine) Page(ctx context.Context, path string) ([]byte, error) {
	it, err := e.known(ctx, path)
	if err != nil {
		return nil, err
	}
	s := e.Settings()
	if it.report.Resize == nil {
		if it.report.Resize, err = resize.Limits(ctx, it.known, s); err != nil {
			return nil, err
		}
	}
	var out bytes.Buffer
	err = render.Page(&out, []render.PageItem{{Design: it.design, Report: it.report}}, render.PageOptions{})
	return out.Bytes(), err
}

// known is the design of a path, measured under the settings in force.
func (e *Engine) known(ctx context.Context, path string) (*design, error) {
	if err := e.fresh(ctx); err != nil {
		return nil, err
	}
	return e.at(path)
}

// Match tells which of the files are one design.
func (e *Engine) Match(ctx context.Context) (*match.Matching, error) {
	if err := e.fresh(ctx); err != nil {
		return nil, err
	}
	var signs []*match.Signature
	for _, it := range e.designs {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		signs = append(signs, match.Sign(it.known, it.report))
	}
	m := match.Match(signs)
	m.Unreadable = append(m.Unreadable, e.lost...)
	return m, nil
}

// WhatIf tells what becomes of a design at a scale.
func (e *Engine) WhatIf(ctx context.Context, path string, scale float64) (*report.ResizeEffect, error) {
	it, err := e.known(ctx, path)
	if err != nil {
		return nil, err
	}
	after, err := analyse.Measure(ctx, it.known, e.options(), scale)
	if err != nil {
		return nil, err
	}
	return resize.At(it.known, it.report, after, scale), nil
}
