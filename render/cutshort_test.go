package render

import (
	"bytes"
	"image/color"
	"os/exec"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// The sheets that hang by the machine say of a file cut short that it is, the pictures of
// it too, and of one that cannot tell the sheet to prepare asks.
func TestCardOfAFileCutShort(t *testing.T) {
	d, whole := square(color.RGBA{200, 0, 0, 255})
	cut, silent := *whole, *whole
	cut.Damage = &report.Damage{Message: "this file is cut short: only its first 9 stitches are there"}
	silent.Format, silent.Whole = "EXP", string(stitchfile.CannotTell)
	for _, c := range []struct {
		name        string
		r           *report.Report
		first, last string // on the first sheet and on the last
	}{
		{"whole", whole, "", ""},
		{"cut short", &cut, "DO NOT SEW: this file is cut short: only its first 9 stitches are there.", ""},
		{"cannot tell", &silent, "", "EXP files do not tell whether they are whole: is all of the design in the picture?"},
	} {
		var b bytes.Buffer
		if err := CardPDF(&b, d, c.r, CardOptions{}); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(poppler(t, "pdftotext"), "-", "-")
		cmd.Stdin = bytes.NewReader(b.Bytes())
		text, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		pages := strings.Split(strings.TrimRight(string(text), "\f"), "\f")
		if len(pages) != 2 {
			t.Fatalf("%s: %d sheets", c.name, len(pages))
		}
		for i, want := range []string{c.first, c.last} {
			page := strings.Join(strings.Fields(pages[i]), " ")
			if !strings.Contains(page, want) || want == "" && (strings.Contains(page, "NOT SEW") || strings.Contains(page, "files do not tell")) {
				t.Errorf("%s: sheet %d says %q", c.name, i+1, page)
			}
		}
	}
	for _, v := range Views() {
		heights := [2]int{}
		for i, r := range []*report.Report{whole, &cut} {
			for p := range v.Draw(d, r, Options{Width: 800}) {
				heights[i] = p.Image.Bounds().Dy()
				break
			}
		}
		if v.Name != "template" && heights[0] >= heights[1] { // a template is of a line, which is there
			t.Errorf("the picture %q of a file cut short has no word of it", v.Name)
		}
	}
}
