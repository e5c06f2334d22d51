package main

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/testdata/demo"
)

// The design that demo looks at, and the copy that has faults planted in it.
const (
	demoShown  = demo.Shown
	demoFaulty = demo.Faulty
)

var demoVerb = verb{
	name:    "demo",
	doc:     "writes the demo designs and runs check, card, draw and page on one",
	example: "stopcard demo --output ./try",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		dir := f.StringP("output", "o", "stopcard-demo", "folder to write into; it is made if it is not there")
		return func(s *session, args []string) int {
			if len(args) > 0 {
				s.complain("demo takes no file")
				return exitUsage
			}
			return s.demo(*dir)
		}
	},
}

// demo replaces what an earlier demo wrote: every file is its own.
func (s *session) demo(dir string) int {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	names, err := fs.Glob(demo.Files, "*.*")
	if err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	for _, name := range names {
		data, err := demo.Files.ReadFile(name)
		if err == nil {
			err = writeFile(filepath.Join(dir, name), true, "", func(w io.Writer) error {
				_, err := io.Copy(w, bytes.NewReader(data))
				return err
			})
		}
		if err != nil {
			s.complain("%v", err)
			return exitUsage
		}
	}
	fmt.Fprintf(s.stdout, "%d design files written to %s\n\n", len(names), printable(dir))

	in := newInputFlags()
	in.passes = true
	status := in.each(s, []string{filepath.Join(dir, demoShown)}, func(got *input) int {
		s.layout(in).report(s.stdout, got.report)
		return max(
			s.drawOne(got, filepath.Join(dir, "picture.png"), 2000, true),
			s.cardOne(got, filepath.Join(dir, "card.png"), render.A4, true),
			s.page([]*input{got}, nil, nil, filepath.Join(dir, "page.html"), true))
	})
	fmt.Fprintf(s.stdout, `
Look at %s first, then open page.html in a browser.
To see what findings look like:
  stopcard check %s
A block made another way, batting first and with a blanket-stitch edge:
  stopcard card %s
`, printable(filepath.Join(dir, "card.png")), printable(filepath.Join(dir, demoFaulty)), printable(filepath.Join(dir, demo.Another)))
	return status
}
