package render_test

import (
	"image/color"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
)

// anyItem is a design of any moves, with text wherever a file can put it.
func anyItem(text string, moves []byte) render.PageItem {
	d := &stitchfile.Design{Name: text, Comments: text, Threads: []stitchfile.Thread{
		{Colour: color.RGBA{200, 20, 20, 255}, Name: text, Catalogue: text, Maker: text}, {Name: text}}}
	var x, y int32
	for i := 0; i+2 < len(moves); i += 3 {
		k := stitchfile.Stitch
		switch moves[i] % 16 {
		case 12:
			x, y = int32(moves[i+1])<<12, int32(moves[i+2])<<12
		case 13:
			k = stitchfile.Jump
		case 14:
			k = stitchfile.Trim
		case 15:
			k = stitchfile.ColourStop
		}
		x, y = x+int32(int8(moves[i+1])), y+int32(int8(moves[i+2]))
		d.Moves = append(d.Moves, stitchfile.Move{X: x, Y: y, Kind: k})
	}
	r := mustRun(d, report.DefaultSettings())
	r.Path = text
	r.Findings = append(r.Findings, report.Finding{Rule: "damaged-file", Severity: report.Fault, Message: text, Advice: text, AtMM: &[2]float64{1, 2}})
	r.Warnings = append(r.Warnings, report.Warning{Message: text})
	return render.PageItem{Design: d, Report: r}
}

// addHostile seeds a fuzz target with names and a few moves.
func addHostile(f *testing.F) {
	f.Add("", []byte{})
	for _, text := range hostile {
		f.Add(text, []byte{0, 100, 0, 0, 0, 100, 15, 0, 0, 0, 156, 0, 0, 0, 156, 14, 0, 0, 13, 90, 90, 0, 1, 1})
	}
}

const mostMoves = 600 // bytes of moves, so that a round stays short

// FuzzCard draws the card and every picture of any design: pages of the size of
// their paper, pictures as wide as was asked.
func FuzzCard(f *testing.F) {
	addHostile(f)
	f.Fuzz(func(t *testing.T, text string, moves []byte) {
		if len(moves) > mostMoves || len(text) > 20_000 {
			return
		}
		item := anyItem(text, moves)
		pages := 0
		for _, page := range render.Card(item.Design, item.Report, render.CardOptions{Paper: render.Hand, Ink: len(text)%2 == 1}) {
			if b := page.Bounds(); b.Dx() != 1240 || b.Dy() != 1748 { // A6 at 300 dpi
				t.Fatalf("a page of %v", b)
			}
			// Before each stop there may be a page of findings, and a row may fill
			// several pages only with the text of the steps, which no file sets.
			if pages++; pages > 8+3*len(item.Report.Stops)+len(item.Report.Findings) {
				t.Fatalf("%d pages of %d stops", pages, len(item.Report.Stops))
			}
		}
		if pages == 0 {
			t.Error("a card without a page")
		}
		for _, v := range render.Views() {
			if v.Name == "template" {
				continue // true to size, so as large as the design
			}
			for p := range v.Draw(item.Design, item.Report, render.Options{Width: 64, Marks: true}) {
				if p.Image.Bounds().Dx() != 64 || !(p.DPI > 0) {
					t.Errorf("%s: %v at %g dpi", v.Name, p.Image.Bounds(), p.DPI)
				}
			}
		}
	})
}

// FuzzPage writes the page of any design. Text from files makes no element that
// loads, runs or frames anything, and none of its control characters come through.
func FuzzPage(f *testing.F) {
	addHostile(f)
	f.Fuzz(func(t *testing.T, text string, moves []byte) {
		if len(moves) > mostMoves || len(text) > 20_000 {
			return
		}
		page := pageOf(t, render.PageOptions{Title: text}, anyItem(text, moves))
		if !utf8.ValidString(page) {
			t.Error("the page is not UTF-8")
		}
		if i := strings.IndexFunc(page, func(r rune) bool {
			return r != '\n' && r != '\t' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r))
		}); i >= 0 {
			t.Errorf("a control character in %q", page[max(0, i-40):i+10])
		}
		got, want := elements(t, page), elements(t, pageOf(t, render.PageOptions{Title: "tock"}, anyItem("tock", moves)))
		for _, name := range []string{"html", "head", "title", "meta", "style", "script", "link", "base", "iframe", "object", "embed", "form", "img", "svg", "image", "dialog"} {
			if got[name] != want[name] {
				t.Errorf("%d of <%s>, want %d", got[name], name, want[name])
			}
		}
	})
}
