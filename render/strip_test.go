package render

import (
	"context"
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// The share of a panel's satin that is thread is the coverage that is written
// beside it, so what is seen is what is measured.
func TestStripShowsCoverage(t *testing.T) {
	set := report.DefaultSettings()
	thread := color.RGBA{200, 30, 40, 255}
	b := new(st.Builder).Thread(thread, "red")
	b.Satin(st.Line(st.Point{X: -40}, st.Point{X: 40}), st.SatinAlong{Width: 5, Pitch: 0.4}).TieOff()
	d := b.Design()
	r := mustRun(d, set)
	scales := []float64{0.8, 1, 1.2, 1.5}
	stop, _, views, err := resize.CoverViews(context.Background(), mustRecognise(d), r, set, scales)
	if err != nil {
		t.Fatal(err)
	}
	if stop != 1 || len(views) != len(scales) {
		t.Fatalf("stop %d, %d views", stop, len(views))
	}
	var panels []StripPanel
	for _, s := range scales {
		panels = append(panels, StripPanel{Scale: s, Label: resize.Percent(s)})
	}
	const side, window = 800, 8.0
	img := Strip(d, r, StripOptions{Stop: stop, Panels: panels, WindowMM: window, PanelWidth: side, Laid: set.LaidWidth()})
	ground := contrastGround(thread)
	for i, v := range views {
		if want := 0.4 * scales[i]; math.Abs(v.PitchMM-want) > 0.02 || math.Abs(v.WidthMM-5*scales[i]) > 0.1 {
			t.Errorf("%g: %+v", scales[i], v)
		}
		panel := panelAt(img, i, side)
		px := side / window
		half := int(2.4 * scales[i] * px) // within the rails
		bare, all := 0, 0
		for y := max(panel.Min.Y+2, (panel.Min.Y+panel.Max.Y)/2-half); y < min(panel.Max.Y-2, (panel.Min.Y+panel.Max.Y)/2+half); y++ {
			for x := panel.Min.X + 4; x < panel.Max.X-4; x++ {
				all++
				if img.RGBAAt(x, y) == ground {
					bare++
				}
			}
		}
		if got := 1 - float64(bare)/float64(all); math.Abs(got-v.Coverage) > 0.03 {
			t.Errorf("at %g %.3f of the satin is thread in the picture, %.3f was measured", scales[i], got, v.Coverage)
		}
	}
}

// panelAt finds panel i: each begins with its frame.
func panelAt(img *image.RGBA, i, side int) image.Rectangle {
	x := 24 + i*(side+24)
	frame := color.RGBA{90, 90, 90, 255}
	for y := range img.Rect.Dy() {
		if img.RGBAAt(x, y) == frame && img.RGBAAt(x+side/2, y) == frame {
			return image.Rect(x, y, x+side, y+side)
		}
	}
	return image.Rectangle{}
}

func TestStripOfNothing(t *testing.T) {
	d := new(st.Builder).Design()
	r := mustRun(d, report.DefaultSettings())
	if img := Strip(d, r, StripOptions{Panels: []StripPanel{{Scale: 1}}}); img.Rect.Empty() {
		t.Error("no picture")
	}
	if img := Strip(d, r, StripOptions{Stop: 7}); img.Rect.Empty() {
		t.Error("no picture")
	}
}
