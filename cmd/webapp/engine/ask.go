package engine

import (
	"context"
	"encoding/json"
	"fmt"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
)

// arguments are what a question may bring; each takes those it needs.
type arguments struct {
	Name    string     `json:"name"`    // of a setting, or of a file for what is said of it
	Path    string     `json:"path"`    // of a design that was read, or of a file or folder that was given
	Percent float64    `json:"percent"` // a scale
	Paper   string     `json:"paper"`
	Width   int        `json:"width"` // of a picture, in pixels
	Whole   bool       `json:"whole"` // all of the page at once
	Value   string     `json:"value"`
	Buyer   bool       `json:"buyer"`
	Said    Correction `json:"said"`
}

// Step is what was read by one "next".
type Step struct {
	Path string `json:"path"`
	More bool   `json:"more"`
}

// Ask answers a question by its name, with arguments as JSON: the whole of what the
// page may ask. The answer is bytes for files, nil for nothing to tell, and else a
// value that encodes as JSON.
func (e *Engine) Ask(ctx context.Context, question string, text []byte) (any, error) {
	var a arguments
	if len(text) > 0 {
		if err := json.Unmarshal(text, &a); err != nil {
			return nil, fmt.Errorf("%s: %w", question, err)
		}
	}
	switch question {
	case "given":
		e.Given()
		return nil, nil
	case "add":
		return nil, e.Add(ctx, a.Path)
	case "open":
		return nil, e.Open(a.Path)
	case "next":
		path, more, err := e.Next(ctx)
		return Step{path, more}, err
	case "stop":
		e.Stop()
		return nil, nil
	case "clear":
		e.Clear()
		return nil, nil
	case "list":
		return e.List(ctx)
	case "json":
		return e.JSON(ctx)
	case "page":
		return e.Page(ctx, a.Path, a.Whole)
	case "picture":
		return e.Picture(ctx, a.Path, a.Width)
	case "limits":
		return e.Limits(ctx, a.Path)
	case "match":
		return e.Match(ctx)
	case "card-pdf":
		return e.CardPDF(ctx, a.Path, a.Paper)
	case "card-png":
		return e.CardPNG(ctx, a.Path, a.Paper)
	case "proof":
		return e.Proof(ctx, a.Buyer)
	case "read":
		return e.Read(ctx, a.Path)
	case "correct":
		return nil, e.Correct(ctx, a.Path, a.Said)
	case "notes":
		return e.NotesFile(ctx, a.Path, a.Said)
	case "whatif":
		if !(a.Percent >= 100*report.ResizeFrom && a.Percent <= 100*report.ResizeTo) || math.IsNaN(a.Percent) {
			return nil, fmt.Errorf("expected %.0f to %.0f %%, got %v", 100*report.ResizeFrom, 100*report.ResizeTo, a.Percent)
		}
		return e.WhatIf(ctx, a.Path, a.Percent/100)
	case "settings":
		return e.InForce(), nil
	case "set":
		if err := e.Set(a.Name, a.Value); err != nil {
			return nil, err
		}
		return e.InForce(), nil
	case "read-settings":
		if err := e.ReadSettings(a.Name, []byte(a.Value)); err != nil {
			return nil, err
		}
		return e.InForce(), nil
	case "no-threads":
		if err := e.PutThreadsAway(); err != nil {
			return nil, err
		}
		return e.InForce(), nil
	}
	return nil, fmt.Errorf("there is no question %q", question)
}
