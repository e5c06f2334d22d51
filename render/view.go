package render

import (
	"context"
	"image"
	"image/color"
	"iter"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Options say how a View draws. The zero value draws 2000 pixels wide on Cloth. What
// depends on thread, hoop, scissors and limits comes from the report's own settings.
type Options struct {
	// Width is the picture's width in pixels. 0 stands for what DPI asks, or
	// 2000 where that is 0 too.
	Width int
	// DPI is the resolution in pixels per inch at which the picture is as large
	// as the design. Where Width is given it follows from that.
	DPI float64

	Ground      color.RGBA // colour under the stitches; zero: Cloth, or for threads too pale for it a darker one
	Transparent bool       // nothing under the stitches
	Bare        bool       // the design alone: no scale bar, no words

	Marks       bool    // number the places of findings, and say what they are
	Stop        int     // the stop that the view "hoop" shows; 0: each at which the hands change something
	Paper       Paper   // sheet of templates; zero: A4
	CutMarginMM float64 // how far cut shapes of templates reach past the line; 0: as the report tells, negative: none

	// Context ends the drawing soon after it ends itself; nil never does.
	Context context.Context
}

// Picture is one drawn image with the resolution at which it has true size.
type Picture struct {
	Image *image.RGBA
	DPI   float64
	Label string // which sheet of several this is, such as "A1"; empty for one alone
}

// View is one way to draw a design and its report. Draw gives at least one
// picture, whatever the report lacks, but for a context that has ended; each is drawn
// when it is asked for.
type View struct {
	Name string // as --view takes it
	Doc  string // what it shows, in one line
	Draw func(*stitchfile.Design, *report.Report, Options) iter.Seq[Picture]
}

// single makes a View's Draw of a function that draws one picture.
func single(draw func(*stitchfile.Design, *report.Report, Options) Picture) func(*stitchfile.Design, *report.Report, Options) iter.Seq[Picture] {
	return func(d *stitchfile.Design, r *report.Report, o Options) iter.Seq[Picture] {
		return func(yield func(Picture) bool) {
			if p := draw(d, r, o); ended(o.Context) == nil {
				yield(p)
			}
		}
	}
}

// Views are all views, the usual one first.
func Views() []View {
	views := []View{threadView, stopsView, kindsView, densityView, penetrationsView, coverView, hoopView, templateView}
	for i := range views {
		draw := views[i].Draw
		views[i].Draw = func(d *stitchfile.Design, r *report.Report, o Options) iter.Seq[Picture] { return draw(d, worn(r), o) }
	}
	return views
}

// ViewNamed finds a view by its name.
func ViewNamed(name string) (View, bool) {
	for _, v := range Views() {
		if v.Name == name {
			return v, true
		}
	}
	return View{}, false
}
