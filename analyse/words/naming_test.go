package words

import (
	"fmt"
	"image/color"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

func of(v uint32) color.RGBA { return color.RGBA{uint8(v >> 16), uint8(v >> 8), uint8(v), 255} }

// What people call colours: middles of large groups of answers in the public colour
// naming survey of 2010 (answers in the public domain; values from memory). A word
// counts as ours where people's is said in another way only, as "maroon" for dark
// red or wine.
func TestColourNameAsPeopleSay(t *testing.T) {
	for _, c := range []struct {
		said string
		rgb  uint32
		also string // other words that say the same
	}{
		{"purple", 0x7E1E9C, ""}, {"green", 0x15B01A, ""}, {"blue", 0x0343DF, ""}, {"pink", 0xFF81C0, ""}, {"brown", 0x653700, ""},
		{"red", 0xE50000, ""}, {"light blue", 0x95D0FC, ""}, {"teal", 0x029386, ""}, {"orange", 0xF97306, ""}, {"light green", 0x96F97B, ""},
		{"magenta", 0xC20078, ""}, {"yellow", 0xFFFF14, ""}, {"sky blue", 0x75BBFD, "light blue"}, {"grey", 0x929591, ""},
		{"lime green", 0x89FE05, ""}, {"light purple", 0xBF77F6, ""}, {"dark green", 0x033500, ""}, {"turquoise", 0x06C2AC, ""},
		{"dark blue", 0x00035B, ""}, {"tan", 0xD1B26F, ""}, {"dark purple", 0x35063E, ""}, {"bright green", 0x01FF07, ""},
		{"maroon", 0x650021, "wine dark red"}, {"olive", 0x6E750E, ""}, {"beige", 0xE6DAA6, ""}, {"royal blue", 0x0504AA, "deep blue"},
		{"navy blue", 0x001146, "navy"}, {"lilac", 0xCEA2FD, ""}, {"black", 0x000000, ""}, {"hot pink", 0xFF028D, "bright pink"},
		{"light brown", 0xAD8150, ""}, {"pale green", 0xC7FDB5, ""}, {"dark pink", 0xCB416B, "deep pink"}, {"mustard", 0xCEB301, ""},
		{"dark red", 0x840000, ""}, {"dark grey", 0x363737, "charcoal"}, {"light grey", 0xD8DCD6, "pale grey"}, {"rust", 0xA83C09, ""},
		{"burgundy", 0x610023, "wine"}, {"dark teal", 0x014D4E, ""}, {"dark brown", 0x341C02, ""}, {"coral", 0xFC5A50, ""},
		{"moss green", 0x658B38, ""}, {"charcoal", 0x343837, ""}, {"bright blue", 0x0165FC, ""}, {"light yellow", 0xFFFE7A, ""},
		{"forest green", 0x06470C, "dark green"}, {"wine", 0x80013F, ""}, {"sage", 0x87AE73, ""}, {"grey blue", 0x6B8BA4, "blue grey"},
	} {
		if got := ColourName(of(c.rgb)); got != c.said && (got == "" || !strings.Contains(c.also, got)) {
			t.Errorf("#%06x: %q, people say %q", c.rgb, got, c.said)
		}
	}
}

// Families go from light to dark, no word stands twice, each is the name of its own
// colours, and neighbours are told apart.
func TestVocabulary(t *testing.T) {
	seen := map[string]bool{}
	all := named()
	for i := range all {
		n := &all[i]
		if seen[n.name] {
			t.Errorf("%q stands twice", n.name)
		}
		seen[n.name] = true
		if i > 0 && all[i-1].family == n.family && n.at[0].L >= all[i-1].at[0].L {
			t.Errorf("%q is no darker than %q", n.name, all[i-1].name)
		}
		for j := range all[:i] {
			for _, a := range n.at {
				if d := all[j].within(a, math.Inf(1)); d <= SameColour {
					t.Errorf("%q and %q are %.1f apart", n.name, all[j].name, d)
				}
			}
		}
	}
	if len(all) < 70 || len(all) > 100 {
		t.Errorf("%d words", len(all))
	}
	// A modified word is lighter or darker than its plain one, as it says.
	at := map[string]float64{}
	for _, n := range all {
		at[n.name] = n.at[0].L
	}
	for name, l := range at {
		how, plain, ok := strings.Cut(name, " ")
		base, known := at[plain]
		if !ok || !known {
			continue
		}
		switch how {
		case "light", "pale":
			if l <= base {
				t.Errorf("%q is no lighter than %q", name, plain)
			}
		case "dark", "deep":
			if l >= base {
				t.Errorf("%q is no darker than %q", name, plain)
			}
		}
		if how == "pale" && at["light "+plain] != 0 && l <= at["light "+plain] {
			t.Errorf("%q is no paler than light %s", name, plain)
		}
	}
}

// No colour is far from every word: 15 is less than the distance from red to
// orange (23) or from grey to dark grey (17).
func TestVocabularyReaches(t *testing.T) {
	all := named()
	for r := 0; r < 256; r += 17 {
		for g := 0; g < 256; g += 17 {
			for b := 0; b < 256; b += 17 {
				c := color.RGBA{uint8(r), uint8(g), uint8(b), 255}
				lab, least := LabOf(c), 100.0
				for i := range all {
					least = min(least, all[i].within(lab, math.Inf(1)))
				}
				if least > 15 {
					t.Errorf("%s: %.1f from %s", Hex(c), least, ColourName(c))
				}
			}
		}
	}
}

// Keywords of the web that nobody says.
func TestVocabularySpoken(t *testing.T) {
	for i := range named() {
		name := named()[i].name
		for _, odd := range []string{"peru", "bisque", "gainsboro", "papaya", "moccasin", "chartreuse", "thistle", "linen", "seashell", "dodger", "alice", "rosy", "burly", "cadet", "gray"} {
			if strings.Contains(name, odd) {
				t.Errorf("%q", name)
			}
		}
		if strings.ToLower(name) != name || len(strings.Fields(name)) > 3 {
			t.Errorf("%q is not written as a word", name)
		}
	}
}

func names(vs ...uint32) []string {
	var cs []color.RGBA
	for _, v := range vs {
		cs = append(cs, of(v))
	}
	return ColourNames(cs)
}

func TestColourNames(t *testing.T) {
	for _, c := range []struct {
		in   []uint32
		want string
	}{
		{nil, ""},
		{[]uint32{0x8B8C8E, 0x5B5C5F, 0x8B8C8E}, "grey | dark grey | grey"},
		// Both are nearest to grey; the next word of the family if it fits, or else how
		// it differs, but never another family's word.
		{[]uint32{0x8B8C8E, 0x9E9FA1}, "grey | light grey"},
		{[]uint32{0x7C7D7F, 0x8B8C8E}, "dark grey | grey"},
		// One word for what is hardly told apart, two for what is.
		{[]uint32{0x20993A, 0x22953C}, "green | green"},
		// No word is free: how they differ is told.
		{[]uint32{0xE8E8E8, 0xD2D2D2, 0xBCBCBC, 0xA8A8A8, 0x949494, 0x808080}, "pale grey | pale grey | light grey | light grey (darker) | grey | grey (darker)"},
	} {
		if got := strings.Join(names(c.in...), " | "); got != c.want {
			t.Errorf("%06x: %s, want %s", c.in, got, c.want)
		}
	}
}

func TestComparative(t *testing.T) {
	for _, c := range []struct {
		p, q Lab
		want string
	}{
		{Lab{50, 10, 0}, Lab{60, 10, 0}, "lighter"},
		{Lab{50, 10, 0}, Lab{40, 10, 0}, "darker"},
		{Lab{50, 0, 30}, Lab{50, 0, 60}, "brighter"},
		{Lab{50, 0, 60}, Lab{50, 0, 30}, "duller"},
		{Lab{50, -50, 10}, Lab{50, -45, -22}, "bluer"},
		{Lab{50, -45, -22}, Lab{50, -50, 10}, "greener"},
		{Lab{50, 50, 25}, Lab{50, 30, 48}, "yellower"},
		{Lab{50, 20, 55}, Lab{50, 45, 38}, "redder"},
	} {
		if got := comparative(c.p, c.q); got != c.want {
			t.Errorf("%v to %v: %s, want %s", c.p, c.q, got, c.want)
		}
	}
}

// The promise, over colours at random: different names past SameColour, and within
// a family the darker has the darker word.
func TestColourNamesTellApart(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		cs := make([]color.RGBA, 2+r.IntN(28))
		base := r.Uint32()
		for i := range cs {
			v := r.Uint32()
			if i%2 == 0 { // crowds of near colours too
				v = base&0xE0E0E0 | v&0x1F1F1F
			}
			cs[i] = of(v)
		}
		got := ColourNames(cs)
		again := slices.Clone(cs)
		slices.Reverse(again)
		for i := range cs {
			for j := range cs[:i] {
				p, q := LabOf(cs[i]), LabOf(cs[j])
				d := CIEDE2000(p, q)
				if d > SameColour && got[i] == got[j] {
					t.Fatalf("%s and %s are %.1f apart and both %q", Hex(cs[i]), Hex(cs[j]), d, got[i])
				}
				if cs[i] == cs[j] && got[i] != got[j] {
					t.Fatalf("%s is %q and %q", Hex(cs[i]), got[i], got[j])
				}
				a, b := wordNamed(got[i]), wordNamed(got[j])
				if a != nil && b != nil && a.family == b.family && a.rank < b.rank && p.L < q.L {
					t.Fatalf("%s is %q and darker than %s, %q", Hex(cs[i]), got[i], Hex(cs[j]), got[j])
				}
			}
		}
	}
}

func wordNamed(name string) *colourNamed {
	all := named()
	for i := range all {
		if all[i].name == name {
			return &all[i]
		}
	}
	return nil
}

// The limit on both sides, along the greys: 1 in L* is about 0.8 to 1 by CIEDE2000
// in the middle of the scale.
func TestSameColour(t *testing.T) {
	base := of(0x808080)
	for v := uint32(0x81); v < 0xA0; v++ {
		c := of(v<<16 | v<<8 | v)
		d := CIEDE2000(LabOf(base), LabOf(c))
		got := ColourNames([]color.RGBA{base, c})
		if same := got[0] == got[1]; same != (d <= SameColour) {
			t.Errorf("%.2f apart: %q", d, got)
		}
	}
}

func TestColourNamesMany(t *testing.T) {
	var cs []color.RGBA
	for i := range 2 * mostCompared {
		cs = append(cs, of(uint32(i)*0x010307))
	}
	seen := map[string]bool{}
	for i, n := range ColourNames(cs) {
		if seen[n] {
			t.Fatalf("%d: %q again", i, n)
		}
		seen[n] = true
	}
}

func ExampleColourNames() {
	fmt.Println(strings.Join(names(0xB22222, 0xCD5C5C, 0xFFA500, 0x2F4F4F), ", "))
	// Output: deep red, brick red, orange, dark teal
}
