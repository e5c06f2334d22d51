package render_test

import (
	"bytes"
	"encoding/json"
	"image"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/testdata/demo"
)

// A report written as JSON and read back draws the same card, pictures and template.
func TestReportReadBackDrawsTheSame(t *testing.T) {
	wholeOnly(t)
	entries, err := demo.Files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		it := demoItem(t, e.Name())
		text, err := json.Marshal(it.Report)
		if err != nil {
			t.Fatal(err)
		}
		var back report.Report
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		again, err := json.Marshal(&back)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(text, again) {
			t.Errorf("%s: %s", e.Name(), cmp.Diff(string(text), string(again)))
		}
		same := func(what string, a, b *image.RGBA) {
			t.Helper()
			if a.Rect != b.Rect || !bytes.Equal(a.Pix, b.Pix) {
				t.Errorf("%s: the %s differs", e.Name(), what)
			}
		}
		o := render.CardOptions{Paper: render.Paper{Name: "small", WidthMM: 148, HeightMM: 210}}
		var sheets []*image.RGBA
		for _, sheet := range render.Card(it.Design, it.Report, o) {
			sheets = append(sheets, sheet)
		}
		n := 0
		for _, sheet := range render.Card(it.Design, &back, o) {
			same("card", sheets[n], sheet)
			n++
		}
		if n != len(sheets) {
			t.Errorf("%s: %d sheets, were %d", e.Name(), n, len(sheets))
		}
		for _, name := range []string{"thread", "stops", "kinds", "template"} {
			v, _ := render.ViewNamed(name)
			var before []*image.RGBA
			for p := range v.Draw(it.Design, it.Report, render.Options{Width: 500}) {
				before = append(before, p.Image)
			}
			k := 0
			for p := range v.Draw(it.Design, &back, render.Options{Width: 500}) {
				same(name+" view", before[k], p.Image)
				k++
			}
		}
	}
}
