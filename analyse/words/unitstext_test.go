package words

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
)

// Lengths within sentences are found as the general library for patterns finds them.
func TestTextByAnotherHand(t *testing.T) {
	find := regexp.MustCompile(`\b(\d+(?:\.\d+)?)(?:( to | x )(\d+(?:\.\d+)?))? mm\b`)
	parts := []string{"0", "5", "12", "130", ".", ",", " x ", " to ", " ", "mm", " mm", "mm2", "_", "a", "in", "é"}
	rng := rand.New(rand.NewPCG(3, 4))
	found := 0
	for range 200_000 {
		var b strings.Builder
		for range 1 + rng.IntN(9) {
			b.WriteString(parts[rng.IntN(len(parts))])
		}
		want := find.ReplaceAllStringFunc(b.String(), func(lengths string) string {
			found++
			m := find.FindStringSubmatch(lengths)
			out := inchFigure(m[1])
			if m[2] != "" {
				out += m[2] + inchFigure(m[3])
			}
			return out + " in"
		})
		if got := Inches.Text(b.String()); got != want {
			t.Fatalf("%q: %q, want %q", b.String(), got, want)
		}
	}
	if found < 4000 {
		t.Errorf("only %d lengths in all", found)
	}
}
