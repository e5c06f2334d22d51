package main

import (
	"fmt"
	"image/color"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/render"
)

var drawVerb = verb{
	name:    "draw",
	args:    "FILE...",
	doc:     "a picture of the design: " + strings.Join(viewNames(), ", "),
	example: "stopcard draw --view stops --width 2000 -o block.png block.dst",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		view := f.String("view", "thread", "what to draw: "+viewHelp())
		width := f.Int("width", 0, "width in pixels (default 2000; templates are always drawn at true size)")
		dpi := f.Float64("dpi", 0, "pixels per inch at true size, in place of --width")
		ground := f.String("ground", "", "what lies under the stitches: transparent, cloth, #rrggbb or a colour name (default: cloth, or a darker ground where the threads are pale)")
		marks := f.Bool("marks", false, "number the places of the findings, as check lists them")
		bare := f.Bool("bare", false, "the design alone, without scale bar and words")
		stop := f.Int("stop", 0, "the stop that --view hoop shows (default: each at which the hands change something)")
		in.addSetting(f, "paper")
		landscape := f.Bool("landscape", false, "turn the sheet of a template on its side")
		margin := f.Float64("margin", 0, "how far the cut shapes of a template reach past the placement line, in mm, 0 for the line itself (default: cloth-margin of the settings, by which the card counts too)")
		out := f.StringP("output", "o", "", "file or folder to write to, or - for standard output; for a template a name that ends with .pdf gives all sheets in one file (default: the design's name with the view and .png, in this folder)")
		pdf := f.Bool("pdf", false, "all sheets of a template in one PDF, as for a name that ends with .pdf")
		force := f.Bool("force", false, "replace an existing file")
		return func(s *session, paths []string) int {
			v, ok := render.ViewNamed(*view)
			if !ok {
				s.complain("--view %q: expected one of %s", *view, strings.Join(viewNames(), ", "))
				return exitUsage
			}
			if f.Changed("width") && (*width < 16 || *width > 10000) {
				s.complain("--width %d: expected 16 to 10000 pixels", *width)
				return exitUsage
			}
			if f.Changed("dpi") && !(*dpi >= 20 && *dpi <= 1200) {
				s.complain("--dpi %v: expected 20 to 1200", *dpi)
				return exitUsage
			}
			if *stop < 0 {
				s.complain("--stop %d: expected the number of a colour stop", *stop)
				return exitUsage
			}
			if f.Changed("width") && f.Changed("dpi") {
				s.complain("--width and --dpi both set the size; give one of them")
				return exitUsage
			}
			if !(*margin >= 0 && *margin <= 50) {
				s.complain("--margin %v: it is given in mm; expected 0 to %s", *margin, words.UnitsOf(&in.Settings).Given(50))
				return exitUsage
			}
			for _, of := range [][2]string{{"stop", "hoop"}, {"margin", "template"}, {"landscape", "template"}} {
				if f.Changed(of[0]) && v.Name != of[1] {
					s.complain("--%s is for --view %s", of[0], of[1])
					return exitUsage
				}
			}
			paper, err := paperNamed(in.Paper, *landscape)
			if err != nil {
				s.complain("%v", err)
				return exitUsage
			}
			o := render.Options{Width: *width, DPI: *dpi, Marks: *marks, Bare: *bare, Stop: *stop, Paper: paper, CutMarginMM: cutMargin(f, *margin)}
			if o.Ground, o.Transparent, err = groundNamed(*ground); err != nil {
				s.complain("%v", err)
				return exitUsage
			}
			to := target{out: *out}
			kinds := []string{".png"}
			if v.Name == "template" {
				kinds = endings(*pdf, ".png", ".pdf")
			} else if *pdf {
				s.complain("--pdf is for --view template")
				return exitUsage
			}
			if !to.fits(s, paths, kinds...) {
				return exitUsage
			}
			after := ".png"
			if v.Name != "thread" {
				after = ending(*pdf, "-"+v.Name+".png")
			}
			return in.each(s, paths, func(got *input) int {
				if n := len(got.report.Stops); *stop > n {
					s.complain("--stop %d: %s has %s", *stop, got.path, words.Plural(n, "colour stop", "colour stops"))
					return exitUsage
				}
				name, ok := to.name(s, got, after)
				if !ok {
					return exitUsage
				}
				return s.drawView(got, v, o, name, *pdf, *force)
			})
		}
	},
}

func viewNames() (names []string) {
	for _, v := range render.Views() {
		names = append(names, v.Name)
	}
	return names
}

func viewHelp() string {
	var b strings.Builder
	for i, v := range render.Views() {
		if i > 0 {
			b.WriteString("; ")
		}
		fmt.Fprintf(&b, "%s (%s)", v.Name, v.Doc)
	}
	return b.String()
}

// groundNamed reads the --ground flag.
func groundNamed(name string) (c color.RGBA, transparent bool, err error) {
	name = strings.ToLower(strings.TrimSpace(name))
	switch name {
	case "":
		return c, false, nil
	case "transparent":
		return c, true, nil
	case "cloth":
		return render.Cloth, false, nil
	}
	if hex, ok := strings.CutPrefix(name, "#"); ok {
		if c, ok := hexColour(hex); ok {
			return c, false, nil
		}
	}
	if c, ok := colourNamed(strings.ReplaceAll(name, " ", "")); ok {
		return c, false, nil
	}
	return c, false, fmt.Errorf("--ground %q: expected transparent, cloth, #rrggbb or a colour name such as navy", name)
}

func pick(given, otherwise string) string {
	if given != "" {
		return given
	}
	return otherwise
}

// drawOne writes the thread picture of one design.
func (s *session) drawOne(got *input, path string, width int, force bool) int {
	return s.drawView(got, render.Views()[0], render.Options{Width: width}, path, false, force)
}

// drawView writes a view's pictures; each of several gets its label before the
// extension.
func (s *session) drawView(got *input, v render.View, o render.Options, path string, pdf, force bool) int {
	o.Context = s.context()
	if isPDF(path) || pdf {
		return s.writeOne(got, path, force, func(w io.Writer) error { return render.TemplatePDF(w, got.design, got.report, o) })
	}
	if path == toStdout {
		n := 0
		for range v.Draw(got.design, got.report, o) {
			if n++; n > 1 {
				s.complain("--view %s of %s is several pictures, and -o - is one file; name a file or a folder", v.Name, got.path)
				return exitUsage
			}
		}
	}
	for p := range v.Draw(got.design, got.report, o) {
		name := path
		if p.Label != "" && path != toStdout {
			ext := filepath.Ext(path)
			name = strings.TrimSuffix(path, ext) + "-" + p.Label + ext
		}
		if err := s.deliver(name, force, got.path, func(w io.Writer) error { return render.EncodePNG(w, p.Image, p.DPI) }); err != nil {
			s.complain("%v", err)
			return exitUsage
		}
	}
	if err := o.Context.Err(); err != nil {
		s.complain("%s: %v", got.path, err)
		return exitStopped
	}
	return exitOK
}
