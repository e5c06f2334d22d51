package render

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// square is one thin square line, in the given colour or in none.
func square(c color.RGBA) (*stitchfile.Design, *report.Report) {
	var b stitchtest.Builder
	if c.A != 0 {
		b.Thread(c, "")
	}
	b.Run(stitchtest.Rect(stitchtest.Point{}, 140, 140), 2)
	d := b.Design()
	return d, mustRun(d, report.DefaultSettings())
}

// repeated is a report with a stop said again so many times, in colours of their
// own, so that no row is merged.
func repeated(d *stitchfile.Design, r *report.Report, n int) *report.Report {
	out := *r
	out.Stops = nil
	for i := range n {
		s := r.Stops[0]
		s.Number = i + 1
		s.Thread.Colour = color.RGBA{uint8(20 + 5*i%200), uint8(90 + i%100), 200, 255}
		out.Stops = append(out.Stops, s)
	}
	out.ColourStops = n
	return &out
}

// pagesOf draws a whole card.
func pagesOf(d *stitchfile.Design, r *report.Report, o CardOptions) (pages []*image.RGBA) {
	for _, p := range Card(d, r, o) {
		pages = append(pages, p)
	}
	return pages
}

// inked counts the pixels that stand at 1.5:1 or better on the picture's ground.
func inked(img *image.RGBA) (n int) {
	ground := img.RGBAAt(img.Rect.Min.X, img.Rect.Min.Y)
	for y := img.Rect.Min.Y; y < img.Rect.Max.Y; y++ {
		for x := img.Rect.Min.X; x < img.Rect.Max.X; x++ {
			if contrast(img.RGBAAt(x, y), ground) >= 1.5 {
				n++
			}
		}
	}
	return n
}

// A single line shows in its row's picture, whatever its thread: at least two
// pixels wide at 300 dpi.
func TestStopPictureShowsALine(t *testing.T) {
	for _, c := range []color.RGBA{{255, 255, 255, 255}, {250, 245, 200, 255}, {169, 169, 169, 255}, {0, 0, 0, 255}, {104, 110, 120, 255}, {}} {
		d, r := square(c)
		const side = 220
		p := stopPictures{d: d, r: r, side: side}
		if got := inked(p.draw([]*report.Stop{&r.Stops[0]})); got < 4*2*side*9/10 {
			t.Errorf("%v: %d pixels show", c, got)
		}
	}
}

// Contrast of the card's inks on white: 7:1 is level AAA (WCAG 2.2).
func TestInksContrast(t *testing.T) {
	if got := contrast(color.RGBA{0, 0, 0, 255}, white); got < 20.99 || got > 21.01 {
		t.Errorf("black on white: %v", got)
	}
	for _, c := range []color.RGBA{ink, quiet, act, alarm} {
		if got := contrast(c, white); got < 7 {
			t.Errorf("%v: %.2f", c, got)
		}
	}
	for _, c := range []color.RGBA{ink, act} {
		if got := contrast(c, handGround); got < 7 {
			t.Errorf("%v on the ground of hand work: %.2f", c, got)
		}
	}
}

// tall is the height in mm of the ink in a part of a page at 300 dpi; dark says
// what counts as ink.
func tall(page *image.RGBA, at rect, dark func(color.RGBA) bool) float64 {
	const perMM = CardDPI / 25.4
	first, last := -1, -1
	for y := int(at.y * perMM); y < int(at.bottom()*perMM); y++ {
		for x := int(at.x * perMM); x < int(at.right()*perMM); x++ {
			if dark(page.RGBAAt(x, y)) {
				if first < 0 {
					first = y
				}
				last = y
			}
		}
	}
	return float64(last-first+1) / perMM
}

// What is read from two metres is tall enough: figures 9 mm, the colour word's
// small letters 3.5 mm, the verbs of the hands 3 mm, the swatch 14 mm and as tall as
// the row. Measured on the page at 300 dpi, on every paper.
func TestCardReadsFromTwoMetres(t *testing.T) {
	crimson := color.RGBA{220, 20, 60, 255} // "crimson", W3C SVG: no tall letter begins it
	d, one := square(crimson)
	r := repeated(d, one, 20) // fewer would be drawn larger still
	r.Stops[0].Thread.Colour = crimson
	r.Stops[0].AfterSteps = []report.Step{{Kind: report.StepTrim, Text: "trim"}}
	r.Stops[0].After = []string{"trim"}
	for _, paper := range everyPaper() {
		o := CardOptions{Paper: paper}
		page := pagesOf(d, r, o)[0]
		c := newCard(d, r, o, CardDPI)
		sheet := c.todoSheets()
		if len(sheet) == 0 || c.zoom != 1 {
			t.Fatalf("%v: %d sheets, drawn %v times as large", paper, len(sheet), c.zoom)
		}
		top := c.edge + c.head(nil)
		isInk := func(q color.RGBA) bool { return contrast(q, white) > 8 && contrast(q, ink) < 1.6 }
		number := tall(page, rect{c.edge + 2, top + 0.8, c.numberW - 3, 10.5}, isInk)
		// The pictures grow with the room there is; the words begin after them.
		words := c.edge + c.numberW + 0.6 + swatchW + colAir + float64(c.pictures.side)/CardDPI*25.4 + colAir
		w, _ := colourLetters.advance('c')
		lines := c.rows[0].lines
		y := top + max(0, c.rows[0].least()*c.grow-c.rows[0].need())*0.4
		colour := tall(page, rect{words, y + 1, w * colourLetters.em * 0.9, 5.2}, isInk)
		for _, l := range lines {
			y += l.drop
		}
		last := lines[len(lines)-1]
		if last.text != "TRIM" {
			t.Fatalf("%v: the last line is %q", paper, last.text)
		}
		left := words + roleLetters.width(last.lead+" ")
		verb := tall(page, rect{left, y - 3.6, last.letters.width("TRIM"), 3.9}, func(q color.RGBA) bool { return contrast(q, handGround) > 4 })
		swatch := tall(page, rect{c.edge + c.numberW + 0.6 + 2, top, 3, rowMost}, func(q color.RGBA) bool { return q == crimson })
		for _, m := range []struct {
			what       string
			got, least float64
		}{{"number", number, 9}, {"colour word", colour, 3.5}, {"verb", verb, 3}, {"swatch", swatch, 14}} {
			if m.got < m.least || m.got > m.least*1.8 {
				t.Errorf("%v: %s is %.2f mm tall, want %.1f", paper, m.what, m.got, m.least)
			}
		}
		if row := c.rows[0].least(); swatch < row-3.5 {
			t.Errorf("%v: the swatch is %.1f mm tall in a row of %.1f", paper, swatch, row)
		}
	}
}

// 24 stops, with hand work among them, take one sheet of A4 or letter.
func TestTwentyFourStopsOnASheet(t *testing.T) {
	d, one := square(color.RGBA{1, 201, 77, 255})
	r := repeated(d, one, 24)
	for i := 3; i < 24; i += 4 {
		s := &r.Stops[i]
		s.BeforeSteps = []report.Step{{Kind: report.StepLay, Text: "lay it"}}
		s.AfterSteps = []report.Step{{Kind: report.StepHoopOff, Text: "off"}, {Kind: report.StepTrim, Text: "trim it"}}
		r.Cloths = append(r.Cloths, report.Cloth{Kind: "applique cloth", Piece: i, Stop: s.Number, WidthMM: 50, HeightMM: 50})
	}
	for _, paper := range []Paper{A4, Letter, A4.Turned()} {
		if got := len(newCard(d, r, CardOptions{Paper: paper}, CardDPI).todoSheets()); got != 1 {
			t.Errorf("%v: %d sheets", paper, got)
		}
	}
}

// No stop is lost, no page holds an odd row or two, whatever the number of stops.
func TestRowsFlowEvenly(t *testing.T) {
	d, one := square(color.RGBA{1, 201, 77, 255})
	for n := 1; n < 120; n++ {
		r := repeated(d, one, n)
		c := newCard(d, r, CardOptions{}, CardDPI)
		blocks := make([]block, len(c.rows))
		for i := range c.rows {
			blocks[i] = block{height: c.rows[i].least()}
		}
		room := c.bottom() - c.edge - c.head(nil)
		columns := evenly(blocks, c.columns, func(int) float64 { return room })
		total, least, most := 0, n, 0
		for _, col := range columns {
			total += len(col)
			least, most = min(least, len(col)), max(most, len(col))
		}
		if total != n {
			t.Fatalf("%d stops: %d rows", n, total)
		}
		if sheets := (len(columns) + 1) / 2; sheets > (n+23)/24 {
			t.Errorf("%d stops: %d sheets", n, sheets)
		}
		if most-least > 1 {
			t.Errorf("%d stops: columns of %d to %d rows", n, least, most)
		}
	}
}

// Rows alike that repeat are merged, but never across work for the hands.
func TestMergedRows(t *testing.T) {
	d, one := square(color.RGBA{})
	black, red := color.RGBA{10, 10, 10, 255}, color.RGBA{200, 10, 10, 255}
	make := func(spec string, hands ...int) *report.Report {
		r := *one
		r.Stops = nil
		for i, k := range spec {
			s := one.Stops[0]
			s.Number = i + 1
			s.Thread.Colour = map[rune]color.RGBA{'b': black, 'r': red, 'g': {10, 200, 10, 255}}[k]
			s.Role = report.RoleDecoration
			r.Stops = append(r.Stops, s)
		}
		for _, h := range hands {
			r.Stops[h-1].BeforeSteps = []report.Step{{Kind: report.StepLay, Text: "lay"}}
		}
		return &r
	}
	for _, c := range []struct {
		spec  string
		hands []int
		want  string
	}{
		{"brbr", nil, "1|2|3|4"},
		{"gg" + strings.Repeat("br", 23), nil, "1|2|3 to 47 odd|4 to 48 even"},
		{"rrrrb", nil, "1 to 4|5"},
		{"rrb", nil, "1|2|3"},
		{"brgbrgbrgb", nil, "1, 4, 7, 10|2, 5, 8|3, 6, 9"},
		{"rrrrrr", []int{4}, "1 to 3|4|5|6"},
		{"brbrbrbrbr", []int{5}, "1|2|3|4|5|6 to 10 even|7|9"},
		{"brbrbrbrbrbr", []int{7}, "1 to 5 odd|2 to 6 even|7|8 to 12 even|9|11"},
		{"gbrbgbrrgb", nil, "1, 5, 9|2 to 6 even|3|7|8|10"},
	} {
		r := make(c.spec, c.hands...)
		var got []string
		seen := 0
		card := newCard(d, r, CardOptions{}, CardDPI)
		for i := range card.rows {
			w := &card.rows[i]
			seen += len(w.stops)
			if len(w.stops) == 1 {
				got = append(got, fmt.Sprint(w.first().Number))
			} else {
				got = append(got, w.which())
			}
		}
		if text := strings.Join(got, "|"); text != c.want {
			t.Errorf("%s: %s, want %s", c.spec, text, c.want)
		}
		if seen != len(r.Stops) {
			t.Errorf("%s: %d stops on the rows of %d", c.spec, seen, len(r.Stops))
		}
	}
}

// The minutes to the next hand work count the sewing up to it, and no more.
func TestMinutesToTheNextHandWork(t *testing.T) {
	d, one := square(color.RGBA{1, 201, 77, 255})
	r := repeated(d, one, 5)
	for i := range r.Stops {
		r.Stops[i].Minutes = float64(i + 1)
	}
	r.Stops[2].AfterSteps = []report.Step{{Kind: report.StepHoopOff}}
	r.Stops[3].BeforeSteps = []report.Step{{Kind: report.StepHoopOff}}
	c := newCard(d, r, CardOptions{}, CardDPI)
	for i, want := range []struct {
		next float64
		at   int
	}{{6, 3}, {5, 3}, {3, 3}, {9, 0}, {5, 0}} {
		if w := c.rows[i]; w.next != want.next || w.nextAt != want.at {
			t.Errorf("stop %d: %v minutes to %d, want %v", i+1, w.next, w.nextAt, want)
		}
	}
}

// A title is whole: a header's first letters are made whole by the file's name.
func TestTitleOf(t *testing.T) {
	for _, c := range []struct{ name, path, want string }{
		{"KETTLE-1", "a/kettle-150.dst", "kettle-150"},
		{"Kettle and Pear", "kettle-150.pes", "Kettle and Pear"},
		{"krebs_pl", "krebs_plain_small.pes", "krebs_plain_small"},
		{"Jan_and_", "Final_Jan_and_Feb__Jan_and_Feb.pes", "Final_Jan_and_Feb__Jan_and_Feb"},
		{"Untitled", "pad.dst", "Untitled"},
		{"", "x/pad.dst", "pad"},
		{"", "-", "Design without a name"},
		{"abc", "xabc.dst", "abc"},
	} {
		if got := titleOf(&report.Report{Name: c.name, Path: c.path}); got != c.want {
			t.Errorf("%q, %q: %q, want %q", c.name, c.path, got, c.want)
		}
	}
}

// Lines are never cut in the middle of a word, and lose none.
func TestLettering(t *testing.T) {
	l := capitals(3, false)
	for _, s := range []string{"", " ", strings.Repeat("w", 500), strings.Repeat("short words ", 50)} {
		lines := l.wrap(s, 60)
		for _, line := range lines {
			if l.width(line) > 60 {
				t.Errorf("%q is %.1f mm wide", line, l.width(line))
			}
		}
		if got, want := strings.Join(lines, ""), strings.ReplaceAll(s, " ", ""); strings.ReplaceAll(got, " ", "") != want {
			t.Errorf("%.20q: letters are lost", s)
		}
	}
	if got := l.most(1, "a title of several words", 40); len(got) != 1 || !strings.HasPrefix("a title of several words", strings.TrimSuffix(got[0], " …")) || l.width(got[0]) > 40 {
		t.Errorf("most: %q", got)
	}
	if got := l.legible("a\x1b\u202e環é"); got != "a???é" {
		t.Errorf("legible: %q", got)
	}
}

// Faults and warnings look different without colour.
func TestSeveritiesDifferInInk(t *testing.T) {
	d, r := square(color.RGBA{200, 0, 0, 255})
	c := newCard(d, r, CardOptions{Ink: true}, CardDPI)
	paint := func(s report.Severity) []byte {
		cv := newPixels(Paper{WidthMM: 8, HeightMM: 8}, CardDPI)
		c.drawGrave(cv, rect{1, 1, 6, 6}, s)
		return cv.img.Pix
	}
	fault, warning, note := paint(report.Fault), paint(report.Caution), paint(report.Note)
	n := 0
	for i := range fault {
		if fault[i] != warning[i] {
			n++
		}
	}
	if n < len(fault)/10 || bytes.Equal(warning, note) {
		t.Errorf("the signs differ in %d of %d bytes", n, len(fault))
	}
}

// The head names the file, which tells the sizes of one design apart.
func TestCardNamesItsFile(t *testing.T) {
	d, r := square(color.RGBA{200, 0, 0, 255})
	r.Name = "square"
	draw := func(path string) *image.RGBA {
		r.Path = path
		return pagesOf(d, r, CardOptions{Paper: Hand})[0]
	}
	none, small, large := draw("-"), draw("pack.zip/block-100.dst"), draw("other/block-150.dst")
	if inked(small) <= inked(none) || string(small.Pix) == string(large.Pix) {
		t.Error("the card does not name its file")
	}
	if again := draw("elsewhere/block-150.dst"); string(again.Pix) != string(large.Pix) {
		t.Error("the folder shows on the card")
	}
}

// Few stops are drawn larger, so that a sheet is never a strip of small rows.
func TestFewRowsAreLarge(t *testing.T) {
	d, one := square(color.RGBA{200, 20, 20, 255})
	for _, c := range []struct {
		paper Paper
		stops int
		zoom  float64 // least
	}{{A4, 1, 1.9}, {A4, 4, 1.9}, {Letter, 5, 1.4}, {A4, 8, 1}, {Hand, 1, 1}} {
		got := newCard(d, repeated(d, one, c.stops), CardOptions{Paper: c.paper}, CardDPI)
		if got.zoom < c.zoom || c.zoom == 1 && got.zoom != 1 {
			t.Errorf("%d stops on %v: %.2f times as large, want %.1f", c.stops, c.paper, got.zoom, c.zoom)
		}
		if n := len(got.todoSheets()); n != 1 {
			t.Errorf("%d stops on %v: %d sheets", c.stops, c.paper, n)
		}
	}
}

// What is told of a stop begins with a word, whatever is not known of it.
func TestRowsBeginWithAWord(t *testing.T) {
	d, one := square(color.RGBA{})
	for _, anyThread := range []bool{false, true} {
		r := repeated(d, one, 12)
		for i := range r.Stops {
			r.Stops[i].AnyThread, r.Stops[i].ColourName = anyThread, nil
		}
		for _, l := range newCard(d, r, CardOptions{}, CardDPI).rows[3].lines {
			if l.text == "" || !strings.ContainsAny(l.text[:1], "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789") {
				t.Errorf("any thread %v: a line begins with %q", anyThread, l.text)
			}
		}
	}
}
