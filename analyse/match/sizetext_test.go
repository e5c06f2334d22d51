package match

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
)

// Sizes are read from names as the general library for patterns finds them.
func TestSizesByAnotherHand(t *testing.T) {
	pattern := regexp.MustCompile(`(?i)(\d+(?:[.,]\d+)?)\s*(?:(x)\s*(\d+(?:[.,]\d+)?))?\s*(inches|inch|in|"|mm|cm)?(?:\b|_|$)`)
	parts := []string{"0", "5", "12", "130", ".", ",", "x", "X", "_", "-", " ", "  ", "in", "IN", "inch", "inches", "\"", "mm", "Mm", "cm", "b", "block", "é", "(", ")"}
	rng := rand.New(rand.NewPCG(1, 2))
	found := 0
	for range 200_000 {
		var b strings.Builder
		for range 1 + rng.IntN(9) {
			b.WriteString(parts[rng.IntN(len(parts))])
		}
		name := b.String()
		var want, got []string
		for _, m := range pattern.FindAllStringSubmatch(name, -1) {
			want = append(want, m[1], m[3], m[4])
		}
		for _, m := range sizeTexts(name) {
			got = append(got, m.w, m.h, m.unit)
		}
		if g, w := strings.Join(got, "|"), strings.Join(want, "|"); g != w {
			t.Fatalf("%q: %q, want %q", name, g, w)
		}
		found += len(got)
	}
	if found < 100_000 {
		t.Errorf("only %d parts of sizes in all", found)
	}
}
