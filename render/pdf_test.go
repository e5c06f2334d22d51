package render

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// poppler finds a tool of poppler-utils, which reads PDF by another hand. Where it
// is not there the test is skipped, or fails if STOPCARD_NEED_POPPLER is set.
func poppler(t *testing.T, tool string) string {
	t.Helper()
	found, err := exec.LookPath(tool)
	if err == nil {
		return found
	}
	if os.Getenv("STOPCARD_NEED_POPPLER") != "" {
		t.Fatalf("STOPCARD_NEED_POPPLER is set, but %s is not found", tool)
	}
	t.Skipf("no %s is found to read the PDF with; it is in poppler-utils", tool)
	return ""
}

// pdfPages are the pages of a PDF at a resolution.
func pdfPages(t *testing.T, data []byte, dpi int) (pages []*image.RGBA) {
	t.Helper()
	tool, dir := poppler(t, "pdftoppm"), t.TempDir()
	cmd := exec.Command(tool, "-png", "-r", fmt.Sprint(dpi), "-", filepath.Join(dir, "p"))
	cmd.Stdin = bytes.NewReader(data)
	if out, err := cmd.CombinedOutput(); err != nil || len(out) > 0 {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	names, err := filepath.Glob(filepath.Join(dir, "p*.png"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(f)
		if err != nil {
			t.Fatal(err)
		}
		f.Close()
		out := image.NewRGBA(img.Bounds())
		draw.Draw(out, out.Rect, img, image.Point{}, draw.Src)
		pages = append(pages, out)
	}
	return pages
}

// The PDF of a card shows what its PNG pages show, in letters that can be read out.
func TestCardPDF(t *testing.T) {
	d := sampler(samplerColours...)
	r := mustRun(d, report.DefaultSettings())
	r.Stops[1].AfterSteps = []report.Step{{Kind: report.StepHoopOff, Text: "take the hoop off"}}
	r.Stops[1].After = []string{"take the hoop off"}
	for _, o := range []CardOptions{{Paper: A5}, {Paper: Hand.Turned(), Ink: true}} {
		var b bytes.Buffer
		if err := CardPDF(&b, d, r, o); err != nil {
			t.Fatal(err)
		}
		got, want := pdfPages(t, b.Bytes(), CardDPI), pagesOf(d, r, o)
		if len(got) != len(want) {
			t.Fatalf("%v: %d pages, want %d", o, len(got), len(want))
		}
		for n := range got {
			if dx, dy := got[n].Rect.Dx()-want[n].Rect.Dx(), got[n].Rect.Dy()-want[n].Rect.Dy(); dx*dx > 1 || dy*dy > 1 {
				t.Errorf("%v: page %d is %v, want %v", o, n+1, got[n].Rect, want[n].Rect)
				continue
			}
			size := 36 // 3 mm
			a, b := means(got[n], size), means(want[n], size)
			a.Rect = b.Rect.Intersect(a.Rect)
			b.Rect = a.Rect
			off := 0
			for y := range a.Rect.Max.Y {
				for x := range a.Rect.Max.X {
					p, q := a.RGBAAt(x, y), b.RGBAAt(x, y)
					if d := int(p.G) - int(q.G); d > 24 || d < -24 {
						off++
					}
				}
			}
			if total := a.Rect.Dx() * a.Rect.Dy(); off*100 > total {
				t.Errorf("%v: page %d differs in %d of %d places", o, n+1, off, total)
			}
		}
		cmd := exec.Command(poppler(t, "pdftotext"), "-", "-")
		cmd.Stdin = bytes.NewReader(b.Bytes())
		text, err := cmd.Output()
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{"Sampler", "HOOP OFF", "manual comes first"} {
			if !strings.Contains(strings.Join(strings.Fields(string(text)), " "), want) {
				t.Errorf("%v: %q cannot be read out", o, want)
			}
		}
	}
}
