package match

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// realDesigns are files of other people that may be looked at but not passed on,
// so they lie outside the repository.
const realDesigns = "../../../shared/designs"

// What was judged by eye on the pictures of real designs.
func TestMatchReal(t *testing.T) {
	if _, err := os.Stat(realDesigns); err != nil {
		t.Skipf("no real stitch files at %s; they are not part of the repository", realDesigns)
	}
	match := func(names ...string) *Matching {
		var signs []*Signature
		for _, n := range names {
			d, err := stitchfile.Open(filepath.Join(realDesigns, filepath.FromSlash(n)))
			if err != nil {
				t.Fatal(err)
			}
			signs = append(signs, signed(d, n))
		}
		return mustMatch(signs)
	}
	for _, c := range []struct {
		name     string
		files    []string
		designs  int
		sizes    int // of the first design
		editions int // in its first size
		verdict  report.Verdict
	}{
		{"globe in two sizes", []string{"embroidery/earth.pes", "embroidery/earth_small.pes"}, 1, 2, 1, report.DigitisedAnew},
		{"crab in two sizes", []string{"embroidery/krebs_plain.pes", "embroidery/krebs_plain_small.pes"}, 1, 2, 1, report.DigitisedAnew},
		{"rings of one breadth", []string{"thread/FRAME_OUT880.0_IN780.0.pes", "thread/FRAME_OUT1280.0_IN1180.0.pes"}, 1, 2, 1, report.DigitisedAnew},
		{"rings of two breadths", []string{"thread/FRAME_OUT880.0_IN780.0.pes", "thread/FRAME_OUT900.0_IN400.0.pes"}, 2, 1, 1, report.OnlySize},
		{"sampler with bolder letters", []string{"samplers/muestraBordadoCirculo.jef", "samplers/muestraBordadoCirculo2.jef"}, 1, 1, 2, report.OnlySize},
		{"one design in two formats", []string{"embroidered/3_8mm_pad.dst", "embroidered/3_8mm_pad.exp"}, 1, 1, 1, report.OnlySize},
		{"one panel in two formats", []string{"programmable/70_-Filling-stitches.dst", "programmable/70_-Filling-stitches.exp"}, 1, 1, 1, report.OnlySize},
		{"filled panels of two makers' kinds", []string{"programmable/70_-Filling-stitches.dst", "programmable/11-44-25-08-2024_Electrode.dst"}, 2, 1, 1, report.OnlySize},
		{"strangers", []string{"embroidery/earth.pes", "embroidery/krebs_plain.pes", "oshw/OSHLogo.dst", "embroidery/Border.pes"}, 4, 1, 1, report.OnlySize},
	} {
		m := match(c.files...)
		if len(m.Designs) != c.designs || len(m.Designs[0].Sizes) != c.sizes {
			t.Errorf("%s: %d designs, the first in %d sizes", c.name, len(m.Designs), len(m.Designs[0].Sizes))
			continue
		}
		editions := 0
		for _, f := range m.Designs[0].Sizes[0].Files {
			editions = max(editions, f.Edition)
		}
		if editions != c.editions {
			t.Errorf("%s: %d editions, want %d", c.name, editions, c.editions)
		}
		seen := false
		for _, z := range m.Designs[0].Sizes {
			seen = seen || z.Verdict == c.verdict
		}
		if !seen {
			t.Errorf("%s: not %s: %+v", c.name, c.verdict, m.Designs[0].Sizes)
		}
	}
}
