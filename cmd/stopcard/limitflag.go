package main

import (
	"fmt"
	"strings"

	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

// limitFlag adds NAME=VALUE to the limits.
type limitFlag struct{ in *inputFlags }

func (f limitFlag) String() string { return "" }
func (f limitFlag) Type() string   { return "name=value" }
func (f limitFlag) Set(text string) error {
	name, value, ok := strings.Cut(text, "=")
	if !ok {
		return fmt.Errorf("expected a rule's limit and its value, such as thin-cover=0.8, got %q", text)
	}
	if err := f.in.SetLimit(name, value); err != nil {
		return err
	}
	f.in.From["limit "+name] = settingsfile.FromFlag
	return nil
}

// fileFlag names the settings file.
type fileFlag struct{ in *inputFlags }

func (f *fileFlag) String() string        { return f.in.file }
func (f *fileFlag) Type() string          { return "file" }
func (f *fileFlag) Set(text string) error { f.in.file = text; return nil }
