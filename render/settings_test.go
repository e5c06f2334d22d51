package render

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

// The pictures on a page are those that a view draws by itself, under any setting: and
// each of these settings is seen in some picture.
func TestPagePicturesObeySettings(t *testing.T) {
	wholeOnly(t)
	data, err := demo.Files.ReadFile(demo.Faulty)
	if err != nil {
		t.Fatal(err)
	}
	d, err := stitchfile.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	pictures := func(s report.Settings) (all string) {
		r := mustRun(d, s)
		var page bytes.Buffer
		if err := Page(&page, []PageItem{{Design: d, Report: r}}, PageOptions{}); err != nil {
			t.Fatal(err)
		}
		for _, show := range pageViews {
			v, _ := ViewNamed(show.view)
			for pic := range v.Draw(d, r, Options{Width: viewWidth}) {
				url, err := dataURL(indexed(pic.Image, viewColours))
				if err != nil {
					t.Fatal(err)
				}
				if !strings.Contains(page.String(), string(hrefAttr(url))) {
					t.Errorf("%+v: the page shows another picture than the %s view", s, show.view)
				}
				all += url
			}
		}
		return all
	}
	usual := pictures(report.DefaultSettings())
	for name, change := range map[string]func(*report.Settings){
		"hoop":                 func(s *report.Settings) { s.HoopWidthMM, s.HoopHeightMM = 200, 300 },
		"thread weight":        func(s *report.Settings) { s.ThreadWeight = 60 },
		"flattening":           func(s *report.Settings) { s.Flattening = 1.2 },
		"trim allowance":       func(s *report.Settings) { s.TrimAllowanceMM = 1.5 },
		"limit stacked-layers": func(s *report.Settings) { s.Limits = map[string]float64{"stacked-layers": 2} },
		"limit crowded-needle": func(s *report.Settings) { s.Limits = map[string]float64{"crowded-needle": 2} },
	} {
		s := report.DefaultSettings()
		change(&s)
		if pictures(s) == usual {
			t.Errorf("%s: no picture shows it", name)
		}
	}
}
