package report

import (
	"slices"
	"testing"
)

func TestKindRuns(t *testing.T) {
	for _, k := range []KindRuns{nil, {KindNone}, {KindRun, KindRun, KindSatin, KindNone, KindTravel, KindTie, KindFill, KindFill, KindOpenZigzag, KindDoubleRun, KindTripleRun}} {
		text, err := k.MarshalText()
		if err != nil {
			t.Fatal(err)
		}
		var back KindRuns
		if err := back.UnmarshalText(text); err != nil || !slices.Equal(k, back) {
			t.Errorf("%v became %q and %v, %v", k, text, back, err)
		}
	}
	if len(kindLetters) != KindCount {
		t.Errorf("%d letters for %d kinds", len(kindLetters), KindCount)
	}
	for _, text := range []string{"x1", "r", "r0", "r-1", "r1.5", "r99999999999", "r60000000 r60000000", "1"} {
		var k KindRuns
		if err := k.UnmarshalText([]byte(text)); err == nil {
			t.Errorf("%q was read as %d kinds", text, len(k))
		}
	}
}

// A column's underlay comes back as it was written.
func TestKindReadsBack(t *testing.T) {
	for k := KindNone; int(k) < KindCount; k++ {
		text, err := k.MarshalText()
		var back Kind
		if err != nil || back.UnmarshalText(text) != nil || back != k {
			t.Errorf("%s comes back as %s, %v", k, back, err)
		}
	}
	back := KindFill
	if err := back.UnmarshalText([]byte("a kind of tomorrow")); err != nil || back != KindNone {
		t.Errorf("%s, %v", back, err)
	}
}
