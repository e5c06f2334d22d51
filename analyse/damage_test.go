package analyse_test

import (
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/rules"
	"github.com/stopcard/stopcard/stitchfile"
)

// The finding for a damaged file says how much was read, of how much and where
// the damage is, without the path that the report has anyway.
func TestDamage(t *testing.T) {
	cut := &stitchfile.FormatError{Format: "DST", Offset: 632, Cause: stitchfile.ErrTruncated, Detail: "38 stitches were read, 40 of the 322 records that the header counts"}
	r := &report.Report{Stitches: 38, Findings: []report.Finding{{Rule: "other"}}}
	rules.Damage(r, &stitchfile.EntryError{Path: "pack.zip/a.dst", Err: cut}, 322)
	f := r.Findings[0]
	if len(r.Findings) != 2 || f.Rule != "damaged-file" || f.Severity != report.Fault || f.Measured != 38 {
		t.Fatalf("%+v", r.Findings)
	}
	for _, want := range []string{"byte 632", "38 stitches", "322 records"} {
		if !strings.Contains(f.Message, want) {
			t.Errorf("%q does not say %q", f.Message, want)
		}
	}
	if strings.Contains(f.Message, "pack.zip") {
		t.Errorf("%q repeats the path", f.Message)
	}
	sound := &report.Report{}
	if rules.Damage(sound, nil, 322); len(sound.Findings) != 0 {
		t.Errorf("a sound file: %+v", sound.Findings)
	}
}
