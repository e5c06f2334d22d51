package analyse_test

import (
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// A design that could be read only in part carries what became of it: its report
// says so without a further call.
func TestDamage(t *testing.T) {
	cut := &stitchfile.FormatError{Format: "DST", Offset: 632, Cause: stitchfile.ErrTruncated, Detail: "38 stitches were read, 40 of the 322 records that the header counts"}
	d := &stitchfile.Design{Damage: cut, Claims: stitchfile.Claims{Records: 322, Stitches: -1, ColourStops: -1},
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
	for _, want := range []string{"byte 632", "38 stitches", "322 records"} {
		if !strings.Contains(told.Message, want) {
			t.Errorf("%q does not say %q", told.Message, want)
		}
	}
	d.Damage = nil
	if r := mustRun(d, report.DefaultSettings()); r.Damage != nil {
		t.Errorf("a sound file: %+v", r.Damage)
	}
}
