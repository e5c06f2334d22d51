package engine

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"fmt"
	"strings"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/notes"
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
	Damage   string  `json:"damage"`   // what was lost of the file, empty for nothing
	Coloured bool    `json:"coloured"` // the file has the colours of its threads
	Named    bool    `json:"named"`    // it has a name of its own
	Key      string  `json:"key"`      // of its stitches
}

// List tells of every design that was read, in the order of the files, and of what
// could not be read.
type List struct {
	Designs    []Row               `json:"designs"`
	Unreadable []report.Unreadable `json:"unreadable"`
}

// List lists what was read.
func (e *Engine) List(ctx context.Context) (*List, error) {
	if err := e.fresh(ctx); err != nil {
		return nil, err
	}
	s := e.Settings()
	own := words.Hoop{WidthMM: s.HoopWidthMM, HeightMM: s.HoopHeightMM}
	out := &List{Designs: []Row{}, Unreadable: e.unreadable()}
	for _, it := range e.readable() {
		r := it.report
		row := Row{Path: it.path, Format: r.Format, WidthMM: r.WidthMM, HeightMM: r.HeightMM, Stitches: r.Stitches,
			Stops: r.ColourStops, Time: words.PartedTime(r.Minutes, r.MachineMin), Coloured: notes.HasColours(it.read), Named: r.Name != "", Key: render.ContentKey(it.design)}
		ok, turned := own.Holds(r.WidthMM, r.HeightMM)
		switch {
		case !own.Given():
			row.Hoop = words.UnitsOf(r.Settings).HoopFor(r.WidthMM, r.HeightMM)
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
	for _, it := range e.readable() {
		r := *it.report
		r.Resize, r.ResizedTo = nil, nil // asked for by another verb
		text, err := render.EncodeReport(&r)
		if err != nil {
			return nil, err
		}
		doc.Design(text)
	}
	err := doc.End(e.unreadable(), true)
	return out.Bytes(), err
}

// Page is the page of one design. Whole, it tells how far the design may be resized, as
// the command's does; else that may come later, by Limits, and a place is kept for it.
func (e *Engine) Page(ctx context.Context, path string, whole bool) ([]byte, error) {
	it, err := e.known(ctx, path)
	if err != nil {
		return nil, err
	}
	if whole {
		if err := e.limit(ctx, it); err != nil {
			return nil, err
		}
	}
	var out bytes.Buffer
	err = render.Page(&out, []render.PageItem{{Design: it.design, Report: it.report}}, render.PageOptions{ResizeLater: true, Context: ctx})
	return out.Bytes(), err
}

// limit finds out how far a design may be resized, once.
func (e *Engine) limit(ctx context.Context, it *design) error {
	if it.report.Resize != nil {
		return nil
	}
	known, err := e.recognised(ctx, it)
	if err != nil {
		return err
	}
	p, err := measure.NewPass(ctx, known, e.Settings(), 1)
	if err != nil {
		return err
	}
	it.report.Resize, err = resize.Limits(ctx, p)
	return err
}

// Limits are the words of the page that tell how far a design may be resized. It takes
// three or four times as long as measuring it.
func (e *Engine) Limits(ctx context.Context, path string) ([]string, error) {
	it, err := e.known(ctx, path)
	if err != nil {
		return nil, err
	}
	if err := e.limit(ctx, it); err != nil {
		return nil, err
	}
	return render.ResizeWords(it.report), nil
}

// Picture is the design as it will look sewn, as bare pixels: width and height as two
// numbers of four bytes, the low one first, then red, green, blue and cover of each.
func (e *Engine) Picture(ctx context.Context, path string, width int) ([]byte, error) {
	it, err := e.known(ctx, path)
	if err != nil {
		return nil, err
	}
	img := render.Thread(it.design, it.report, render.ThreadOptions{Width: min(max(width, 100), mostWide), Context: ctx})
	if img == nil {
		return nil, ctx.Err()
	}
	out := binary.LittleEndian.AppendUint32(make([]byte, 0, 8+len(img.Pix)), uint32(img.Rect.Dx()))
	out = binary.LittleEndian.AppendUint32(out, uint32(img.Rect.Dy()))
	return append(out, img.Pix...), ctx.Err()
}

// mostWide bounds the first picture; the page brings a sharper one.
const mostWide = 1200

// paperOf is a paper by its name; empty for A4.
func paperOf(name string) (render.Paper, error) {
	if name == "" {
		return render.A4, nil
	}
	for _, p := range render.Papers() {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
	}
	return render.Paper{}, fmt.Errorf("no paper is named %q", name)
}

// CardPDF is the card of one design as a PDF.
func (e *Engine) CardPDF(ctx context.Context, path, paper string) ([]byte, error) {
	it, err := e.known(ctx, path)
	if err != nil {
		return nil, err
	}
	p, err := paperOf(paper)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = render.CardPDF(&out, it.design, it.report, render.CardOptions{Paper: p, Context: ctx})
	return out.Bytes(), err
}

// CardPNG is the card of one design as pictures, one a sheet, in a ZIP.
func (e *Engine) CardPNG(ctx context.Context, path, paper string) ([]byte, error) {
	it, err := e.known(ctx, path)
	if err != nil {
		return nil, err
	}
	p, err := paperOf(paper)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for i, sheet := range render.Card(it.design, it.report, render.CardOptions{Paper: p, Context: ctx}) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		// A PNG is compressed already.
		w, err := z.CreateHeader(&zip.FileHeader{Name: fmt.Sprintf("card-%d.png", i+1), Method: zip.Store})
		if err != nil {
			return nil, err
		}
		if err := render.EncodePNG(w, sheet, render.CardDPI); err != nil {
			return nil, err
		}
	}
	err = z.Close()
	return out.Bytes(), err
}

// Proof is the page that tells whether the files are ready to be published as a pack;
// buyer is the sheet for those who buy it.
func (e *Engine) Proof(ctx context.Context, buyer bool) ([]byte, error) {
	if err := e.fresh(ctx); err != nil {
		return nil, err
	}
	var signs []*match.Signature
	var items []render.ProofItem
	for _, it := range e.readable() {
		known, err := e.recognised(ctx, it)
		if err != nil {
			return nil, err
		}
		s := match.Sign(known, it.report)
		signs, items = append(signs, s), append(items, render.ProofItem{Design: it.design, Report: it.report, Sign: s})
	}
	found, err := match.Match(ctx, signs)
	if err != nil {
		return nil, err
	}
	found.Unreadable = append(found.Unreadable, e.unreadable()...)
	var out bytes.Buffer
	err = render.ProofPage(&out, match.Prove(found), items, render.ProofOptions{Title: "Proof of these files", Buyer: buyer, Units: words.UnitsOf(&e.values().Settings), Context: ctx})
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
	for _, it := range e.readable() {
		known, err := e.recognised(ctx, it)
		if err != nil {
			return nil, err
		}
		signs = append(signs, match.Sign(known, it.report))
	}
	m, err := match.Match(ctx, signs)
	if err != nil {
		return nil, err
	}
	m.Unreadable = append(m.Unreadable, e.unreadable()...)
	return m, nil
}

// WhatIf tells what becomes of a design at a scale.
func (e *Engine) WhatIf(ctx context.Context, path string, scale float64) (*report.ResizeEffect, error) {
	it, err := e.known(ctx, path)
	if err != nil {
		return nil, err
	}
	known, err := e.recognised(ctx, it)
	if err != nil {
		return nil, err
	}
	after, err := analyse.Measure(ctx, known, it.noted, scale)
	if err != nil {
		return nil, err
	}
	return resize.At(known, it.report, after, scale), nil
}
