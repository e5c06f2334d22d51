package analyse_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// A design that could be read only in part carries what became of it: its report
// says so without a further call.
func TestDamage(t *testing.T) {
	cut := &stitchfile.FormatError{Format: "DST", Offset: 632, Cause: stitchfile.ErrTruncated, Detail: "38 stitches were read, 40 of the 322 records that the header counts"}
	d := &stitchfile.Design{Damage: cut, Claims: stitchfile.Claims{Records: 322, Stitches: -1, ColourStops: 6},
		Moves: []stitchfile.Move{{Kind: stitchfile.Stitch}, {X: 20, Kind: stitchfile.Stitch}}}
	r := mustRun(d, report.DefaultSettings())
	if r.Damage == nil || r.Damage.Claimed == nil || *r.Damage.Claimed != 322 || r.Damage.Read != 2 {
		t.Fatalf("%+v", r.Damage)
	}
	var told *report.Finding
	for i := range r.Findings {
		if r.Findings[i].Rule == "damaged-file" {
			told = &r.Findings[i]
		}
	}
	if told == nil || told.Severity != report.Fault || told.Measured != 2 || told.Limit != 322 {
		t.Fatalf("%+v", r.Findings)
	}
	if want := "this file is cut short: only its first 2 stitches are there, about 1 % of the design, in 1 of its 7 colour stops"; told.Message != want || r.Partial() != want {
		t.Errorf("%q, %q, want %q", told.Message, r.Partial(), want)
	}
	for _, want := range []string{"byte 632", "38 stitches", "322 records"} {
		if !strings.Contains(r.Damage.Error, want) {
			t.Errorf("%q does not say %q", r.Damage.Error, want)
		}
	}
	corrupt := *d
	corrupt.Damage = &stitchfile.FormatError{Format: "DST", Offset: 632, Cause: stitchfile.ErrCorrupt, Detail: "out of step"}
	if got, want := mustRun(&corrupt, report.DefaultSettings()).Partial(), "this file is damaged: only its first 2 stitches could be read, about 1 % of the design, in 1 of its 7 colour stops"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	d.Damage = nil
	if r := mustRun(d, report.DefaultSettings()); r.Damage != nil {
		t.Errorf("a sound file: %+v", r.Damage)
	}
}

// Of a file cut short it is not told what the part that is missing may hold: a cover that
// breaks off, one that was yet to come, and the end of the thread.
func TestFindingsOfACutFile(t *testing.T) {
	ring, other := st.Circle(st.Point{X: -30}, 20), st.Circle(st.Point{X: 30}, 20)
	b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().DoubleRun(ring.Offset(0.5), 2.2).TieOff().Stop()
	b.Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop()
	b.Run(other, 2.5).TieOff().Stop().DoubleRun(other.Offset(0.5), 2.2).TieOff().Stop()
	d := b.Satin(other, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Design()
	whole, err := st.Encode("DST", d)
	if err != nil {
		t.Fatal(err)
	}
	lacking := func(r *report.Report) (out []string) {
		for _, f := range r.Findings {
			if f.Rule != "damaged-file" && (f.Severity.AtLeast(report.Caution) || f.Rule == "no-tie" && slices.Contains(f.Stops, len(r.Stops))) {
				out = append(out, f.Rule)
			}
		}
		return out
	}
	for _, share := range []float64{0.6, 0.68, 0.8, 0.95} {
		part, err := stitchfile.Decode(bytes.NewReader(whole[:int(share*float64(len(whole)))]))
		if part == nil || err == nil {
			t.Fatalf("%.2f of it: %v", share, err)
		}
		if told := lacking(mustRun(part, report.DefaultSettings())); len(told) > 0 {
			t.Errorf("%.2f of it: besides %v", share, told)
		}
		// The same stitches in a whole file lack what they lack.
		part.Damage, part.Whole = nil, stitchfile.Whole
		if told := lacking(mustRun(part, report.DefaultSettings())); len(told) == 0 {
			t.Errorf("%.2f of it, as a whole file: nothing is told", share)
		}
	}
}
