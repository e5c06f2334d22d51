package render_test

import (
	"bytes"
	"fmt"
	"image/color"
	"regexp"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
	"github.com/stopcard/stopcard/testdata/demo"
	"golang.org/x/net/html"
)

// hostile are names that a file may carry.
var hostile = []string{
	`</script><img src=x onerror=alert(1)>`,
	`"><svg onload=alert(1)>`,
	`</style></title><script>alert(1)</script><!--`,
	"\u202egnp.tock\u2066\u200b tick \x00\x07\x1b[31m tock \u2028 \xff\xfe",
	strings.Repeat("long", 2500) + "<b>tock",
	"{{.CSS}} ${alert(1)} 'alert(1)' javascript:alert(1)",
	strings.Repeat("e\u0301\u0302\u0303", 3000),
}

// hostileItem is a design with that text wherever a file can put it.
func hostileItem(text string) render.PageItem {
	var b stitchtest.Builder
	b.Name = text
	b.Thread(color.RGBA{200, 20, 20, 255}, text).Run(stitchtest.Rect(stitchtest.Point{}, 60, 60), 2).Stop()
	b.Thread(color.RGBA{20, 20, 200, 255}, "").Run(stitchtest.Rect(stitchtest.Point{}, 40, 40), 2)
	d := b.Design()
	d.Comments = text
	for i := range d.Threads {
		d.Threads[i].Catalogue, d.Threads[i].Maker = text, text
	}
	r := mustRun(d, report.DefaultSettings())
	r.Path = text
	r.Warnings = append(r.Warnings, report.Warning{Offset: 12, Message: text})
	r.Findings = append(r.Findings, report.Finding{Rule: "damaged-file", Severity: report.Fault, Message: text, Advice: text + " tock", AtMM: &[2]float64{1, 2}})
	return render.PageItem{Design: d, Report: r}
}

func pageOf(t testing.TB, o render.PageOptions, items ...render.PageItem) string {
	t.Helper()
	var b bytes.Buffer
	if err := render.Page(&b, items, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// elements counts the elements of a page by name.
func elements(t *testing.T, text string) map[string]int {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	n := map[string]int{}
	for e := range doc.Descendants() {
		if e.Type == html.ElementNode {
			n[e.Data]++
			for _, a := range e.Attr {
				if strings.HasPrefix(a.Key, "on") || a.Key == "style" || a.Key == "src" {
					t.Errorf("<%s %s>", e.Data, a.Key)
				}
			}
		}
	}
	return n
}

// Text from files makes no element and no attribute.
func TestPageEscapes(t *testing.T) {
	want := elements(t, pageOf(t, render.PageOptions{Title: "tock"}, hostileItem("tock"), hostileItem("tick")))
	for _, name := range hostile {
		got := elements(t, pageOf(t, render.PageOptions{Title: name}, hostileItem(name), hostileItem("x"+name)))
		for _, tag := range []string{"script", "style", "title", "svg", "img", "b", "meta", "li", "tr"} {
			if got[tag] != want[tag] {
				t.Errorf("%.40q: %d <%s>, want %d", name, got[tag], tag, want[tag])
			}
		}
	}
}

// The page names nothing outside itself.
func TestPageIsWhole(t *testing.T) {
	text := pageOf(t, render.PageOptions{}, demoItem(t, demo.Shown))
	for _, m := range regexp.MustCompile(`(?:\s(?:href|src)="|url\()([^"#][^")]{0,22})`).FindAllStringSubmatch(text, -1) {
		if !strings.HasPrefix(m[1], "data:image/png;base64") {
			t.Errorf("the page names %q", m[0])
		}
	}
	if strings.Contains(text, "http://") || strings.Contains(text, "https://") {
		t.Error("the page holds an address")
	}
	if strings.Contains(text, "ZgotmplZ") {
		t.Error("the template refused a value")
	}
}

// Reports with nothing in them, and with no stitches, still give a page.
func TestPageOfLittle(t *testing.T) {
	var b stitchtest.Builder
	d := b.Design()
	empty := render.PageItem{Design: d, Report: mustRun(d, report.DefaultSettings())}
	for _, items := range [][]render.PageItem{nil, {empty}, {empty, empty}, {{Design: d, Report: &report.Report{}}}} {
		if n := elements(t, pageOf(t, render.PageOptions{}, items...)); n["body"] != 1 {
			t.Errorf("%v", n)
		}
	}
}

// A file made of endless stops and findings still gives a page that opens.
func TestPageOfTooMuch(t *testing.T) {
	var b stitchtest.Builder
	for i := range 3000 {
		b.Run(stitchtest.Rect(stitchtest.Point{X: float64(i % 50)}, 4, 4), 2).Stop()
	}
	d := b.Design()
	r := mustRun(d, report.DefaultSettings())
	for i := range 5000 {
		r.Findings = append(r.Findings, report.Finding{Rule: "long-stitch", Severity: report.Fault, Stop: i % 3000, AtMM: &[2]float64{}, Message: "long"})
	}
	if len(r.Stops) < 3000 {
		t.Fatalf("%d stops", len(r.Stops))
	}
	text := pageOf(t, render.PageOptions{}, render.PageItem{Design: d, Report: r})
	if len(text) > 8<<20 {
		t.Errorf("%d bytes", len(text))
	}
	for _, want := range []string{"and 2000 more stops", fmt.Sprintf("and %d more", len(r.Findings)-1000)} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}

// Files share a section only where they hold one design at one size, and a faulty
// file never hides behind a sound one.
func TestPageSections(t *testing.T) {
	wholeOnly(t)
	for _, c := range []struct {
		files    []string
		sections int
	}{
		{[]string{"kettle-100.dst", "kettle-100.jef", "kettle-100.pes"}, 1},
		{[]string{"kettle-100.dst", "kettle-125.dst", "kettle-150.dst"}, 3},
		{[]string{"kettle-150.pes", "kettle-150-faulty.dst"}, 2},
		{[]string{"kettle-135-stretched.dst", "kettle-150.pes"}, 2},
	} {
		var items []render.PageItem
		for _, name := range c.files {
			items = append(items, demoItem(t, name))
		}
		text := pageOf(t, render.PageOptions{}, items...)
		if got := strings.Count(text, `class="design on-`); got != c.sections {
			t.Errorf("%v: %d sections, want %d", c.files, got, c.sections)
		}
		if !strings.Contains(text, "kettle-100.pes") && strings.Contains(c.files[0], "100") && c.sections == 1 {
			t.Errorf("%v: a file is not named", c.files)
		}
	}
}

func BenchmarkPage(b *testing.B) {
	for _, name := range []string{demo.Shown, "kettle-100.pes"} {
		b.Run(name, func(b *testing.B) {
			it := demoItem(b, name)
			var out bytes.Buffer
			for b.Loop() {
				out.Reset()
				if err := render.Page(&out, []render.PageItem{it}, render.PageOptions{}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(out.Len()), "bytes")
		})
	}
}
