package words

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"
	"sort"
)

const (
	// SameColour is how far apart, by CIEDE2000, two colours may lie and still go
	// by one word. Spools that differ by more are told apart at arm's length; 2 to
	// 5 is seen only side by side (common practice of colour matching, no single
	// source).
	SameColour = 5.0

	// nextWord is how far from what a word is used for a colour may lie and still
	// go by it, where a nearer word is taken: words of a family lie about so far
	// apart. A word of another family must fit nearly as well as the nearest, or
	// a plain grey becomes taupe.
	nextWord = 13.0
	nearlySo = 2.0

	// mostCompared bounds the colours of a design that are compared with one
	// another; with more, words are numbered. No machine has as many needles.
	mostCompared = 200
)

// ColourName is the everyday word nearest to c.
func ColourName(c color.RGBA) string {
	lab, best, name := LabOf(c), math.Inf(1), ""
	all := named()
	for i := range all {
		if d := all[i].within(lab, best); d < best {
			best, name = d, all[i].name
		}
	}
	return name
}

// ColourNames names colours that are seen together, such as the threads of a
// design. Colours more than SameColour apart get different names: each the word
// nearest to it that is free and keeps the order of its family, so that "dark
// grey" is darker than "grey"; where there is none, the word of its neighbour and
// how it differs from it, as in "green (darker)"; and a number where that is
// taken too.
func ColourNames(cs []color.RGBA) []string {
	index := map[color.RGBA]int{}
	var distinct []color.RGBA
	for _, c := range cs {
		if _, ok := index[c]; !ok {
			index[c] = len(distinct)
			distinct = append(distinct, c)
		}
	}
	var names []string
	if len(distinct) <= mostCompared {
		names = newNaming(distinct).names()
	} else {
		names = numbered(distinct)
	}
	out := make([]string, len(cs))
	for i, c := range cs {
		out[i] = names[index[c]]
	}
	return out
}

// naming gives words to groups of colours that are much the same.
type naming struct {
	of     []int // group of each colour
	groups [][]Lab
	word   []int    // of each group, in named; -1 while it has none
	holder []int    // of each word, the group that has it; -1 for none
	text   []string // of each group
}

func newNaming(distinct []color.RGBA) *naming {
	n := &naming{of: make([]int, len(distinct))}
	for i, c := range distinct {
		lab := LabOf(c)
		g := slices.IndexFunc(n.groups, func(group []Lab) bool {
			return !slices.ContainsFunc(group, func(o Lab) bool { return beyond(lab, o, SameColour) || CIEDE2000(lab, o) > SameColour })
		})
		if g < 0 {
			g = len(n.groups)
			n.groups = append(n.groups, nil)
		}
		n.of[i], n.groups[g] = g, append(n.groups[g], lab)
	}
	n.word, n.text = slices.Repeat([]int{-1}, len(n.groups)), make([]string, len(n.groups))
	n.holder = slices.Repeat([]int{-1}, len(named()))
	return n
}

// names gives a name to each of the colours.
func (n *naming) names() []string {
	nearest := n.takeWords()
	taken := map[string]bool{}
	for _, t := range n.text {
		taken[t] = true
	}
	for g := range n.groups {
		if n.word[g] >= 0 {
			continue
		}
		name := named()[nearest[g]].name
		text := name
		if h := n.like(g, named()[nearest[g]].family); h >= 0 {
			name = n.text[h]
			text = fmt.Sprintf("%s (%s)", name, comparative(n.groups[h][0], n.groups[g][0]))
		}
		for i := 2; taken[text]; i++ {
			text = fmt.Sprintf("%s %d", name, i)
		}
		n.text[g], taken[text] = text, true
	}
	out := make([]string, len(n.of))
	for i, g := range n.of {
		out[i] = n.text[g]
	}
	return out
}

// like is the group nearest to g of those that have a word of the family, or -1.
func (n *naming) like(g, family int) int {
	best, least := -1, math.Inf(1)
	for h, w := range n.word {
		if w < 0 || named()[w].family != family {
			continue
		}
		if d := CIEDE2000(n.groups[g][0], n.groups[h][0]); d < least {
			best, least = h, d
		}
	}
	return best
}

// takeWords hands out words, the best fitting first, and gives the nearest word of
// each group.
func (n *naming) takeWords() []int {
	type fit struct {
		group, word int
		d           float64
	}
	var fits []fit
	nearest := make([]int, len(n.groups))
	all := named()
	for g := range n.groups {
		ds := fromWords(n.groups[g][0])
		for w := range ds {
			if ds[w] < ds[nearest[g]] {
				nearest[g] = w
			}
		}
		for w, d := range ds {
			near := d <= ds[nearest[g]]+nearlySo
			if near || d <= nextWord && all[w].family == all[nearest[g]].family {
				fits = append(fits, fit{g, w, d})
			}
		}
	}
	sort.SliceStable(fits, func(i, j int) bool { return fits[i].d < fits[j].d })
	for _, f := range fits {
		if n.word[f.group] < 0 && n.holder[f.word] < 0 && n.ordered(f.group, f.word) {
			n.word[f.group], n.holder[f.word], n.text[f.group] = f.word, f.group, all[f.word].name
		}
	}
	return nearest
}

// ordered reports whether all of the group, named so, is lighter than what has
// darker words of the family, and darker than what has lighter ones.
func (n *naming) ordered(group, word int) bool {
	all := named()
	for h, w := range n.word {
		if w < 0 || all[w].family != all[word].family {
			continue
		}
		light, dark := n.groups[group], n.groups[h]
		if all[w].rank < all[word].rank {
			light, dark = dark, light
		}
		byL := func(p, q Lab) int { return cmp.Compare(p.L, q.L) }
		if slices.MinFunc(light, byL).L <= slices.MaxFunc(dark, byL).L {
			return false
		}
	}
	return true
}

// numbered names colours one by one, with a number where a word comes again.
func numbered(cs []color.RGBA) []string {
	out, count := make([]string, len(cs)), map[string]int{}
	for i, c := range cs {
		name := ColourName(c)
		if count[name]++; count[name] > 1 {
			out[i] = fmt.Sprintf("%s %d", name, count[name])
		} else {
			out[i] = name
		}
	}
	return out
}

// comparative says in one word how q differs most from p.
func comparative(p, q Lab) string {
	chroma := func(c Lab) float64 { return math.Hypot(c.A, c.B) }
	cp, cq := chroma(p), chroma(q)
	turn := math.Mod(math.Atan2(q.B, q.A)-math.Atan2(p.B, p.A)+3*math.Pi, 2*math.Pi) - math.Pi
	// The weights are those of CIE94 (CIE 116-1995) for lightness, chroma and hue.
	mean := math.Sqrt(cp * cq)
	light, strong, hue := q.L-p.L, (cq-cp)/(1+0.045*mean), 2*mean*math.Sin(turn/2)/(1+0.015*mean)
	switch {
	case math.Abs(light) >= max(math.Abs(strong), math.Abs(hue)) && light > 0:
		return "lighter"
	case math.Abs(light) >= max(math.Abs(strong), math.Abs(hue)):
		return "darker"
	case math.Abs(strong) >= math.Abs(hue) && strong > 0:
		return "brighter"
	case math.Abs(strong) >= math.Abs(hue):
		return "duller"
	}
	// The plain hues as they lie round the circle of Lab; the next in the turn's
	// direction tells where to.
	plain := []struct {
		angle float64
		word  string
	}{{25, "redder"}, {90, "yellower"}, {160, "greener"}, {265, "bluer"}}
	best, word := math.Inf(1), ""
	for _, h := range plain {
		ahead := math.Mod(h.angle*math.Pi/180-math.Atan2(p.B, p.A)+4*math.Pi, 2*math.Pi)
		if hue < 0 {
			ahead = math.Mod(2*math.Pi-ahead, 2*math.Pi)
		}
		if ahead > 1e-9 && ahead < best {
			best, word = ahead, h.word
		}
	}
	return word
}
