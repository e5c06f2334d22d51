package render_test

import (
	"bytes"
	"cmp"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/match"
	"github.com/stopcard/stopcard/render"
)

// proofSet is the proof of a pack in which much is to be mended.
func proofSet(t *testing.T) (*match.Proof, []render.ProofItem) {
	t.Helper()
	var signs []*match.Signature
	var items []render.ProofItem
	for _, f := range []struct{ name, as string }{{"kettle-100.pes", ""}, {"kettle-125.pes", ""}, {"kettle-125.dst", ""}, {"kettle-135-stretched.dst", "kettle-135.dst"},
		{"kettle-150-faulty.dst", "kettle-150.dst"}, {"kettle-150.pes", ""}, {"kettle-150.pes", "kettle-150 copy.pes"}, {"snail-130.dst", "snail.dst"}} {
		it := demoItem(t, f.name)
		it.Report.Path = cmp.Or(f.as, f.name)
		known, err := analyse.Recognise(context.Background(), it.Design, analyse.Options{})
		if err != nil {
			t.Fatal(err)
		}
		s := match.Sign(known, it.Report)
		signs, items = append(signs, s), append(items, render.ProofItem{Design: it.Design, Report: it.Report, Sign: s})
	}
	found, err := match.Match(context.Background(), signs)
	if err != nil {
		t.Fatal(err)
	}
	return match.Prove(found), items
}

// proofOf is the page of that proof.
func proofOf(t *testing.T, o render.ProofOptions) []byte {
	t.Helper()
	p, items := proofSet(t)
	var b bytes.Buffer
	if err := render.ProofPage(&b, p, items, o); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// The buyer's sheet says which files there are, and nothing of what is to be mended; times are
// told for the speed that is set.
func TestBuyersSheetTellsNoFlaws(t *testing.T) {
	text := string(proofOf(t, render.ProofOptions{Title: "Kettle", Buyer: true}))
	for _, flaw := range []string{"missing<", "differs<", "twice<", "135.0 x", "kettle-150", "<h2>"} {
		if strings.Contains(text, flaw) {
			t.Errorf("the buyer's sheet has %q", flaw)
		}
	}
	for _, want := range []string{`data-label="DST">no<`, `data-label="DST">yes<`, "at 600 stitches a minute"} {
		if !strings.Contains(text, want) {
			t.Errorf("the buyer's sheet lacks %q", want)
		}
	}
}

// The proof and the buyer's sheet are read in light and in the dark, on a phone and on a wide
// screen, and are printed on white.
func TestProofPageInBrowser(t *testing.T) {
	v := visitPages(t)
	for name, o := range map[string]render.ProofOptions{"proof": {Title: "Proof of kettle"}, "buyer": {Title: "Kettle", Buyer: true}} {
		file := filepath.Join(t.TempDir(), name+".html")
		if err := os.WriteFile(file, proofOf(t, o), 0o644); err != nil {
			t.Fatal(err)
		}
		v.size(1280)
		v.do(chromedp.Navigate("file://" + file))
		v.fits(name)
		v.size(768)
		v.shot(name + "-768")
		for _, width := range []int64{360, 768, 1280} {
			v.size(width)
			v.legible(name)
		}
		v.size(360)
		if got := eval[int](v, `[...document.querySelectorAll("td")].filter(e => e.getBoundingClientRect().right > 360).length`); got > 0 {
			t.Errorf("%s: %d cells stand out of a phone's screen", name, got)
		}
		for scheme, dark := range map[string]bool{"light": false, "dark": true} {
			for _, medium := range []string{"screen", "print"} {
				call(v, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: medium, Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
				ground := eval[string](v, `getComputedStyle(document.body).backgroundColor`)
				if got := eval[bool](v, `getComputedStyle(document.body).backgroundColor.match(/\d+/g).every(n => n < 64)`); got != (dark && medium == "screen") {
					t.Errorf("%s: in %s mode the ground on %s is %s", name, scheme, medium, ground)
				}
				if medium == "print" && scheme == "dark" {
					v.size(710) // A4 upright less its margins, for printers that do not turn it
					if got := eval[int](v, `[...document.querySelectorAll("td")].filter(e => e.getBoundingClientRect().right > 711).length`); got > 0 {
						t.Errorf("%s, printed: %d cells are cut off", name, got)
					}
					for _, text := range eval[[]string](v, lowContrast)[1:] {
						t.Errorf("%s, printed: contrast %s", name, text)
					}
				}
			}
		}
		call(v, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
		v.prints(name, 4)
		v.quiet("file://" + file)
	}
}
