package report

import "strings"

// Limit is one figure that a rule holds stitches against.
type Limit struct {
	Name    string  // kebab-case; the rule's id, with a suffix where a rule has several
	Default float64 // in Unit
	Unit    string
	Reason  string // what happens past it
	Source  string // a published source, or "common practice, no single source"
}

// CommonPractice is the source of what many do and nobody owns.
const CommonPractice = "common practice, no single source"

var limits = []Limit{
	{"header-disagrees", 0.5, "mm", "a header that tells another size is not of these stitches", "less may be rounding; " + CommonPractice},
	{"thin-cover", 0.85, "share", "less of the cloth under thread and it shows between the stitches", "derived: reproduces the rule of at most 10 to 20 % resizing; " + CommonPractice},
	{"thin-cover-stretch", 0.75, "share", "so thin over 10 mm of a column shows even where the rest is well covered", "derived from thin-cover: tight curves open their outer half by about a tenth; " + CommonPractice},
	{"edge-uncovered", 1.0, "mm", "a longer stretch of edge outside the satin shows and frays; how far the satin must reach is the trim allowance", "trim distance of 1 to 2 mm, design makers' instructions; length: " + CommonPractice},
	{"tack-down-in-sight", 0.1, "mm", "a cover that does not reach so far in past the tack-down holds the cloth by nothing but its rim", "half the thread of its own stitches; " + CommonPractice},
	{"narrow-satin", 0.9, "mm", "narrower satin leaves the needle no cloth between its holes", "1 mm at least: Printwear, February 2016; a column drawn so wide may measure 0.9 mm, since files round places to 0.1 mm"},
	{"wide-satin", 9.0, "mm", "wider satin snags, and many machines split it", "Printwear, February 2016: 9 mm advised, 12 mm the most a machine sews"},
	{"long-stitch", 9.0, "mm", "longer stitches snag in use and in the wash", "as for satin: Printwear, February 2016"},
	{"short-stitch", 0.5, "mm", "shorter stitches knot, and the thread breaks", "0.3 to 0.5 mm usual; " + CommonPractice},
	{"short-stitch-share", 0.05, "share", "more of a stop's stitches so short slow the thread until it knots", "fewer are the small turns of any lettering and fill; " + CommonPractice},
	{"crowded-needle", 4.5, "holes/mm2", "more holes cut the cloth and break needles", "3 to 4 per mm2 with repeated holes; borders over fills and small letters that sew well have up to 4.5 that are holes of their own; " + CommonPractice},
	{"crowded-needle-close", 0.3, "mm", "holes nearer than this fall into one another", CommonPractice},
	{"stacked-layers", 4.4, "layers", "more thread than this stands stiff and bends needles", "trouble begins above about three: Printwear, December 2016; satin over underlay alone has two to three, and up to 4.3 where two sound covers meet at a corner"},
	{"untrimmed-jump", 6.0, "mm", "a longer loose thread snags and shows", CommonPractice},
	{"no-tie", 1.0, "mm", "a thread that starts or ends without stitches this short works loose", CommonPractice},
	{"tack-down-astray", 1.5, "mm", "a tack-down further from its placement line misses the cloth", "tack-down lies on or just inside the placement line, design makers' instructions"},
	{"open-outline", 3.0, "mm", "a tack-down with a wider opening holds no cloth there", "longer than one stitch; " + CommonPractice},
	{"missing-pause", 2.0, "s", "a hand on the button needs so long to stop the machine", CommonPractice},
	{"drawn-in", 0.0, "mm", "a hold-down inside the first outline leaves cloth unheld that the stitching drew in", "later lines lie a little outside the first; " + CommonPractice},
}

// Limits lists every limit with its default, unit, reason and source.
func Limits() []Limit {
	out := make([]Limit, len(limits))
	copy(out, limits)
	return out
}

// LimitNamed is the limit of the given name in the table.
func LimitNamed(name string) (Limit, bool) {
	for _, l := range limits {
		if l.Name == name {
			return l, true
		}
	}
	return Limit{}, false
}

// Of reports whether the limit belongs to a rule by its name: the rule's ID, alone or
// with a suffix.
func (l *Limit) Of(rule string) bool {
	return l.Name == rule || strings.HasPrefix(l.Name, rule+"-")
}

// Limit is the limit of the given name that is in force: the person's own where
// Settings.Limits has one, the default otherwise. It panics on a name that
// Limits does not list.
func (s *Settings) Limit(name string) float64 {
	if v, ok := s.Limits[name]; ok {
		return v
	}
	if l, ok := LimitNamed(name); ok {
		return l.Default
	}
	panic("report: no limit named " + name)
}
