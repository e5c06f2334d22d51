package main

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/testdata/docs/samples"
)

// unpictured are the rules that find nothing one could see on cloth.
var unpictured = map[string]bool{
	"header-disagrees": true, // figures in a file
	"damaged-file":     true, // bytes
	"empty-stop":       true, // nothing to see
	"set-disagrees":    true, // of several files
}

// Every rule that can be pictured has its picture in the README, and what is
// pictured gives that finding and no other.
func TestReadmeSamples(t *testing.T) {
	root := filepath.Join("..", "..")
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, s := range samples.Samples() {
		known[s.Rule] = true
		if err := s.Check(); err != nil {
			t.Error(err)
		}
		if (samples.Sample{Rule: s.Rule, Sound: s.Faulty, Faulty: s.Sound}).Check() == nil {
			t.Errorf("%s: the halves may be exchanged and the check does not see it", s.Rule)
		}
		link := "testdata/docs/rules/" + s.Rule + ".png"
		_, section, _ := strings.Cut(string(readme), "\n### "+s.Rule+"\n")
		section, _, _ = strings.Cut(section, "\n##")
		if !strings.Contains(strings.ToLower(section), "!["+s.Alt+"]("+link+")") {
			t.Errorf("%s: its section of the README lacks its picture, ![%s](%s)", s.Rule, s.Alt, link)
		}
		want, err := s.Picture()
		if err != nil {
			t.Fatal(err)
		}
		data, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(link)))
		if err != nil {
			t.Error(err)
			continue
		}
		if len(data) > 40_000 {
			t.Errorf("%s takes %d bytes", link, len(data))
		}
		got, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Errorf("%s: %v", link, err)
			continue
		}
		// Rounding may differ from one processor to the next, drawings may not.
		if d := unlike(got, want); d > 1 {
			t.Errorf("%s differs from what its sample looks like by %.1f levels in 255; run go generate ./testdata/docs", link, d)
		}
	}
	for _, r := range rules.All() {
		if known[r.ID] == unpictured[r.ID] {
			t.Errorf("%s: there must be a sample, or a reason why there is none", r.ID)
		}
	}
	files, err := filepath.Glob(filepath.Join(root, "testdata", "docs", "rules", "*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !known[strings.TrimSuffix(filepath.Base(f), ".png")] {
			t.Errorf("%s is of no sample", f)
		}
	}
}

// unlike is how far two pictures differ in the mean of their channels.
func unlike(a, b image.Image) float64 {
	if a.Bounds() != b.Bounds() {
		return 255
	}
	var sum, n float64
	r := a.Bounds()
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			ar, ag, ab, _ := a.At(x, y).RGBA()
			br, bg, bb, _ := b.At(x, y).RGBA()
			for _, d := range [3]int{int(ar) - int(br), int(ag) - int(bg), int(ab) - int(bb)} {
				sum += float64(max(d, -d)) / 257
				n++
			}
		}
	}
	return sum / n
}
