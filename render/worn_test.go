package render_test

import (
	"bytes"
	"image"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/testdata/demo"
)

// garish counts the pixels of a purple that the demo has nowhere.
func garish(img image.Image) (n int) {
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			if b > r+0x2000 && r > g+0x4000 {
				n++
			}
		}
	}
	return n
}

// A stop whose thread is noted is shown in that thread's colour, on card, page and picture
// alike, where the notes or the thread box give one; else in the file's.
func TestNotedThreadIsShownInItsColour(t *testing.T) {
	const stop = 16 // satin, the widest of the demo
	for name, test := range map[string]struct {
		note  func(s *report.Stop)
		shown bool
	}{
		"nothing": {func(*report.Stop) {}, false},
		"of the box": {func(s *report.Stop) {
			s.ThreadName, s.Spool = "sign", &report.Spool{Name: "sign", Colour: "#b030e8", Near: report.NearNoted}
		}, true},
		"a code":       {func(s *report.Stop) { s.ThreadName = " #B030E8" }, true},
		"a word":       {func(s *report.Stop) { s.ThreadName = "Bright Purple" }, true},
		"another word": {func(s *report.Stop) { s.ThreadName = "the rayon, not the cotton" }, false},
	} {
		it := demoItem(t, demo.Shown)
		it.Report.Stops = slices.Clone(it.Report.Stops)
		s := &it.Report.Stops[stop-1]
		was := s.Thread.Colour
		s.ThreadNoted = name != "nothing"
		test.note(s)
		seen := map[string]int{
			"picture": garish(render.Thread(it.Design, it.Report, render.ThreadOptions{Width: 400})),
			"strip":   garish(render.Strip(it.Design, it.Report, render.StripOptions{Stop: stop, Panels: []render.StripPanel{{Scale: 1}}, WindowMM: 150})),
		}
		for _, img := range render.Card(it.Design, it.Report, render.CardOptions{}) {
			seen["card"] += garish(img)
		}
		for _, v := range []string{"thread"} {
			view, ok := render.ViewNamed(v)
			if !ok {
				t.Fatalf("there is no view %s", v)
			}
			for p := range view.Draw(it.Design, it.Report, render.Options{Width: 400}) {
				seen["view "+v] += garish(p.Image)
			}
		}
		var page bytes.Buffer
		if err := render.Page(&page, []render.PageItem{it}, render.PageOptions{}); err != nil {
			t.Fatal(err)
		}
		seen["page"] = strings.Count(page.String(), "#b030e8")
		for what, n := range seen {
			if n > 0 != test.shown {
				t.Errorf("%s, %s: %d places in the colour that is noted", name, what, n)
			}
		}
		if it.Report.Stops[stop-1].Thread.Colour != was {
			t.Errorf("%s: drawing changes the report", name)
		}
	}
}
