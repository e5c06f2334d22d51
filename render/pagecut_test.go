package render

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/words"
)

// A size to cut breaks before the inches alone, so that no unit stands alone on a line.
func TestCutSizeKeepsItsUnits(t *testing.T) {
	for units, want := range map[words.Units]string{
		words.Both:   "78\u00a0x\u00a073\u00a0mm (3\u00a01/8\u00a0x\u00a02\u00a07/8\u00a0in)",
		words.Metric: "78\u00a0x\u00a073\u00a0mm",
		words.Inches: "3\u00a01/8\u00a0x\u00a02\u00a07/8\u00a0in",
	} {
		if got := cutSize(units, 78, 73); got != want {
			t.Errorf("%s: %q, want %q", units, got, want)
		}
	}
}
