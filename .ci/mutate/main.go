// Mutate tells how well the tests hold the constants by which designs are
// recognised, measured and matched: it multiplies each by 0.8 and by 1.25 and
// counts after how many of these changes a test fails.
//
//	go run ./.ci/mutate                        all of recognition
//	go run ./.ci/mutate -of measuring          those of measuring and the rules
//	go run ./.ci/mutate -of matching           those of sets
//	go run ./.ci/mutate -only 'follow|cover'   those whose names match
//	go run ./.ci/mutate -list                  only name them
//	go run ./.ci/mutate -short                 by the tests that -short leaves
//	go run ./.ci/mutate -in 'analyse/applique' by the tests of that package alone
//
// It works in a copy of the module in a temporary folder and leaves this one
// alone. In the copy each constant becomes a variable that is set when a test
// binary starts, so that one build serves for all changes; a constant of which
// Go wants to know the value beforehand is changed in the source instead.
package main

import (
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"time"
)

// A field is what constants decide together: the packages that they stand in,
// and the tests that are to notice, the quick ones first.
type field struct {
	looked []string
	held   []testSet
}

var fields = map[string]field{
	"recognition": {
		[]string{"analyse/applique", "analyse/satin", "analyse/stitches"},
		[]testSet{
			{"analyse/stitches", "."},
			{"analyse/satin", "."},
			{"analyse/applique", "."},
			{"analyse", "Rehears|MissingPause|TackDownAfter"},
			{"analyse", "Truth|Ways|Constants|Passages|Column|Cover|Piece|Blocks|Edge|Zigzag|Satin|Tie"},
		},
	},
	"measuring": {
		[]string{"analyse/measure", "analyse/rules"},
		[]testSet{{"analyse/rules", "."}, {"analyse/measure", "."}, {"analyse/gather", "."}, {"analyse", "."}, {"analyse/resize", "."}},
	},
	"matching": {
		[]string{"analyse/match"},
		[]testSet{{"analyse/match", "."}},
	},
}

// looked and held are those of the field that was chosen.
var (
	looked []string
	held   []testSet
)

// excused are constants that decide nothing about what is recognised, with why.
var excused = []struct {
	name   *regexp.Regexp
	reason string
}{
	{regexp.MustCompile(`\.most(Traces|Pieces|Looks|Filled|Rounds|Loops|Sharp|Sorted|Nested|Options|OnPiece)$|\.beamWidth$|\.leastScore$`), "bounds the work that a hostile file can ask for; no design comes near it"},
	{regexp.MustCompile(`^rules\.(byArithmetic|byRoot|asThin|rounding)$`), "what arithmetic leaves of figures that are the same"},
	{regexp.MustCompile(`^match\.(unknownKin|runMeasure)$`), "stands for something and measures nothing"},
	{regexp.MustCompile(`^measure\.(ground(Across|Along|Most)|cellMM|cellBits|bandEvery|fillCell|fillStep|threadCell|EnoughFill|GlanceFill)$|^match\.(stopSketch|wholeSketch|stretches)$|^rules\.(stray|free)Step$|Samples$|\.traceStep$|\.lanes$|\.insideGrid$|\.maskBits$|\.guide(Step|Bend)$`), "how finely a line is looked at: more is only slower"},
	{regexp.MustCompile(`^applique\.said`), "what a person said, which outweighs what was found by so much that a fifth changes nothing"},
	{regexp.MustCompile(`^(measure|rules|match)\.(most(Holes|FillCells|Cells|Needs|Spots|Points|Stops)|(free|stray|sample)Most|fillCellsLeast|cellsPerStitch|leastCells|cellsAcross)$`), "bounds the work that a hostile file can ask for; no design comes near it"},
	{regexp.MustCompile(`^satin\.(leastArea|endCap|[sS]tretchMM|axisReach)$|^satin\.CoverReachMM$`), "measures, does not recognise"},
}

func main() {
	only := flag.String("only", "", "change only constants whose names match, as in applique.FollowWithin")
	of := flag.String("of", "recognition", "which constants: recognition, measuring or matching")
	short := flag.Bool("short", false, "leave out the tests of many designs")
	in := flag.String("in", "", "run only the tests of packages whose folders match")
	list := flag.Bool("list", false, "name the constants and do nothing else")
	limit := flag.Duration("limit", 90*time.Second, "time for the tests of one change")
	least := flag.Float64("least", 0, "fail below this share caught, in per cent")
	jobs := flag.Int("jobs", max(1, runtime.NumCPU()/2), "changes tried at once")
	flag.Parse()
	chosen, ok := fields[*of]
	if !ok {
		fmt.Fprintf(os.Stderr, "mutate: -of %s: want recognition, measuring or matching\n", *of)
		os.Exit(2)
	}
	looked, held = chosen.looked, chosen.held
	if where, err := regexp.Compile(*in); err == nil {
		held = slices.DeleteFunc(held, func(s testSet) bool { return !where.MatchString(s.pkg) })
	}
	if err := run(*only, *list, *short, *limit, *least, *jobs); err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

func run(only string, list, short bool, limit time.Duration, least float64, jobs int) error {
	match, err := regexp.Compile(only)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "mutate-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	stop := make(chan os.Signal, 1)
	signal.Notify(stop, os.Interrupt, syscall.SIGTERM)
	go func() { <-stop; os.RemoveAll(dir); os.Exit(130) }()
	copyDir := filepath.Join(dir, "module")
	if err := copyModule(copyDir, "."); err != nil {
		return err
	}
	var all []*number
	for _, pkg := range looked {
		found, err := constantsOf(copyDir, pkg)
		if err != nil {
			return fmt.Errorf("%s: %w", pkg, err)
		}
		for _, c := range found {
			if match.MatchString(c.name) {
				all = append(all, c)
			}
		}
	}
	var tried []*number
	for _, c := range all {
		if why := excuse(c.name); why != "" {
			fmt.Printf("left out   %-34s %s\n", c.name, why)
			continue
		}
		tried = append(tried, c)
	}
	if list {
		for _, c := range tried {
			fmt.Printf("%-34s %-10s %s %s\n", c.name, c.literal, c.at, c.kind())
		}
		return nil
	}
	w := &work{dir: copyDir, bin: filepath.Join(dir, "bin"), limit: limit, short: short}
	if err := w.build(tried); err != nil {
		return err
	}
	if out, caught := w.try(nil, 0); caught {
		return fmt.Errorf("the tests fail before anything is changed:\n%s", tail(out, 20))
	}
	caught, of := w.all(tried, jobs)
	share := 100 * float64(caught) / float64(max(1, of))
	fmt.Printf("caught %d of %d changes, %.1f %%\n", caught, of, share)
	if share < least {
		return fmt.Errorf("%.1f %% are caught, want %.0f", share, least)
	}
	return nil
}

func excuse(name string) string {
	for _, e := range excused {
		if e.name.MatchString(name) {
			return e.reason
		}
	}
	return ""
}

func tail(s string, lines int) string {
	l := strings.Split(strings.TrimSpace(s), "\n")
	return strings.Join(l[max(0, len(l)-lines):], "\n")
}
