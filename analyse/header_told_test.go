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

// A header that counts colour changes of which none is left, or more than a block with
// cloth to lay has, tells of stops that were lost: that is a warning. In plain embroidery
// fewer colours are no harm.
func TestStopsLostByTheHeader(t *testing.T) {
	run := func(stops int) *stitchfile.Design {
		b := new(st.Builder).Run(st.Circle(st.Point{}, 20), 2.5)
		for i := range stops {
			b.Stop().Run(st.Circle(st.Point{X: 9 * float64(i+1)}, 15), 2.5)
		}
		return b.Design()
	}
	block := tackedInside(0)
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		claims int
		want   report.Severity
		told   bool
	}{
		{"one colour, of which it counts the thread", run(0), 1, report.Note, false},
		{"one colour of two changes", run(0), 2, report.Caution, true},
		{"plain, two colours of three changes", run(1), 3, report.Note, true},
		{"a block, of which it counts the threads", block, block.Counts().ColourStops + 1, report.Note, false},
		{"a block that lacks two stops", block, block.Counts().ColourStops + 2, report.Caution, true},
		{"a block with one more than it counts", block, block.Counts().ColourStops - 1, report.Note, true},
	} {
		c.design.Claims.ColourStops = c.claims
		told := false
		for _, f := range mustRun(c.design, report.DefaultSettings()).Findings {
			if f.Rule != "header-disagrees" {
				continue
			}
			if told = true; f.Severity != c.want {
				t.Errorf("%s: %v, want %v", c.name, f.Severity, c.want)
			}
		}
		if told != c.told {
			t.Errorf("%s: told %v, want %v", c.name, told, c.told)
		}
	}
}
