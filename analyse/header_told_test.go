package analyse_test

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// What a header says wrongly is told once: by the finding where it is looked for, and by
// the reader where it is not.
func TestHeaderIsToldOnce(t *testing.T) {
	data, err := st.Encode("DST", new(st.Builder).Run(st.Circle(st.Point{}, 20), 2.5).Stop().Run(st.Circle(st.Point{}, 15), 2.5).Design())
	if err != nil {
		t.Fatal(err)
	}
	wrong := func(changes ...string) []byte {
		out := bytes.Clone(data)
		for i := 0; i < len(changes); i += 2 {
			at := bytes.Index(out[:512], []byte(changes[i]))
			copy(out[at+len(changes[i]):], changes[i+1])
		}
		return out
	}
	for _, c := range []struct {
		name   string
		data   []byte
		skip   []string
		told   []string // by the finding
		untold int      // warnings of the header beside it
		whole  string   // by what tells that the file may not be whole
	}{
		{"a sound header", data, nil, nil, 0, ""},
		{"five more changes", wrong("CO:", "  7"), nil, []string{"7 colour changes"}, 0, ""},
		{"the same, not looked for", wrong("CO:", "  7"), []string{"header-disagrees"}, nil, 1, ""},
		{"fewer records", wrong("ST:", "     20"), nil, []string{"20 records"}, 0, ""},
		{"none counted", wrong("ST:", "      0"), nil, nil, 1, ""},
		{"more changes and records", wrong("CO:", "  7", "ST:", "   9999"), nil, nil, 0, "9999 records"},
	} {
		d, err := stitchfile.Decode(bytes.NewReader(c.data))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		s := report.DefaultSettings()
		s.Skip = c.skip
		r, err := analyse.Run(context.Background(), d, analyse.Options{Settings: &s})
		if err != nil {
			t.Fatal(err)
		}
		var said []string
		whole := ""
		for _, f := range r.Findings {
			if f.Rule == "damaged-file" {
				whole += f.Message
			}
			if f.Rule == "header-disagrees" {
				said = append(said, f.Message)
			}
		}
		if len(said) > 1 || len(said) == 0 && len(c.told) > 0 {
			t.Errorf("%s: %d findings: %q", c.name, len(said), said)
			continue
		}
		if c.whole == "" && whole != "" || !strings.Contains(whole, c.whole) {
			t.Errorf("%s: of the whole it is said %q", c.name, whole)
		}
		for _, what := range c.told {
			if !strings.Contains(said[0], what) {
				t.Errorf("%s: %q does not tell of %s", c.name, said[0], what)
			}
		}
		untold := 0
		for _, w := range r.Untold() {
			if strings.HasPrefix(w.Message, "header ") {
				untold++
			}
		}
		if untold != c.untold || len(c.told) > 0 && len(r.Warnings) == 0 {
			t.Errorf("%s: %d warnings beside the finding, want %d, of %v", c.name, untold, c.untold, r.Warnings)
		}
	}
}

// Sizes that a header states are told by the finding from half a millimetre, and by the
// reader alone below.
func TestHeaderSizesAreToldOnce(t *testing.T) {
	for _, c := range []struct {
		wider  int // tenths of a millimetre
		untold int
	}{{3, 1}, {8, 0}} {
		d := new(st.Builder).Run(st.Circle(st.Point{}, 20), 2.5).Design()
		box, _ := d.Bounds()
		d.Claims.Width, d.Claims.Height = int(box.Width())+c.wider, int(box.Height())
		d.Warnings = []stitchfile.Warning{{Offset: 36, Message: "header states 41.0 by 40.0 mm, the sewn part is 40.0 by 40.0 mm"}}
		r := mustRun(d, report.DefaultSettings())
		if n := len(r.Untold()); n != c.untold {
			t.Errorf("%d tenths wider: %d warnings beside the finding, want %d", c.wider, n, c.untold)
		}
	}
}

// Of a file cut short it is told once that it is, and not again that its header counts more.
func TestHeaderOfACutFileIsNotTold(t *testing.T) {
	data, err := st.Encode("DST", new(st.Builder).Run(st.Circle(st.Point{}, 20), 2.5).Stop().Run(st.Circle(st.Point{}, 15), 2.5).Design())
	if err != nil {
		t.Fatal(err)
	}
	d, err := stitchfile.Decode(bytes.NewReader(data[:len(data)*2/3]))
	if d == nil || err == nil {
		t.Fatalf("%v", err)
	}
	r, err := analyse.Run(context.Background(), d, analyse.Options{})
	if err != nil {
		t.Fatal(err)
	}
	damaged := 0
	for _, f := range r.Findings {
		switch f.Rule {
		case "damaged-file":
			damaged++
		case "header-disagrees":
			t.Errorf("%s", f.Message)
		}
	}
	if damaged != 1 || len(r.Warnings) == 0 {
		t.Errorf("%d findings of damage, warnings %v", damaged, r.Warnings)
	}
	for _, w := range r.Untold() {
		if strings.HasPrefix(w.Message, "header counts") {
			t.Errorf("besides: %v", w)
		}
	}
}
