package stitchfile_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
)

// Where the full reading finds nothing in a header to object to, the header alone
// tells the size of the sewn part, to 0.2 mm, and its colour stops.
func TestRealConfigs(t *testing.T) {
	needReal(t)
	files, sizes, stops := 0, 0, 0
	err := filepath.WalkDir(realDesigns, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || !reads(name) {
			return err
		}
		files++
		f, err := os.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		c, bad := (&stitchfile.Decoder{Name: name}).DecodeConfig(f)
		d, err := stitchfile.Open(name)
		if (bad == nil) != (d != nil) {
			t.Errorf("%s: %v; the full reading says %v", name, bad, err)
		}
		if d == nil {
			return nil
		}
		agrees(t, c, d)
		if c.Name != d.Name {
			t.Errorf("%s: name %q, the full reading has %q", name, c.Name, d.Name)
		}
		if err != nil || len(d.Warnings) > 0 {
			return nil
		}
		if c.Claims.ColourStops >= 0 {
			stops++
			if n := d.Counts().ColourStops; c.Claims.ColourStops != n {
				t.Errorf("%s: %d colour stops, %d are there", name, c.Claims.ColourStops, n)
			}
		}
		if w, h, ok := c.Size(); ok {
			sizes++
			box, _ := d.Bounds()
			if dw, dh := w-float64(box.Width())/10, h-float64(box.Height())/10; max(dw, -dw, dh, -dh) > 0.2 {
				t.Errorf("%s: %v by %v mm, the sewn part is %d by %d tenths", name, w, h, box.Width(), box.Height())
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if files == 0 || sizes == 0 || stops == 0 {
		t.Errorf("of %d files %d sizes and %d colour stops could be compared", files, sizes, stops)
	}
}
