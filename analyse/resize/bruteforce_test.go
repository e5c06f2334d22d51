package resize

import (
	"context"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// about is what a finding is told of.
type about struct {
	rule string
	key
}

// failing lists what gives a warning or a fault at a scale, and what is past a limit of a grid.
func failingAt(rec *applique.Recognised, s report.Settings, percent int) map[about]report.Finding {
	out := map[about]report.Finding{}
	r, err := analyse.Measure(context.Background(), rec, analyse.Options{Settings: &s}, float64(percent)/100)
	if err != nil {
		panic(err)
	}
	for _, f := range r.Each {
		a := about{f.Rule, key{f.Stop, f.Piece}}
		if slices.Contains(ofTheWhole, f.Rule) {
			a.key = key{}
		}
		if (f.Severity.AtLeast(report.Caution) || slices.Contains(easedByGrowing, f.Rule)) && !slices.Contains(ofTheFile, f.Rule) {
			out[a] = f
		}
	}
	return out
}

// firstFails measures the whole design at every whole percent one way and gives, for
// each rule, the first percent at which it finds what it does not find at 100.
func firstFails(rec *applique.Recognised, s report.Settings, way report.Direction) map[string]int {
	was := failingAt(rec, s, 100)
	first := map[string]int{}
	step, end := 1, int(100*way.End())
	if way == report.Shrinking {
		step = -1
	}
	for p := 100 + step; (end-p)*step >= 0; p += step {
		for a, f := range failingAt(rec, s, p) {
			old, already := was[a]
			if already && !old.Severity.AtLeast(report.Caution) {
				already = !f.Severity.AtLeast(report.Caution) // a note becomes an alarm
			}
			if !already && first[a.rule] == 0 {
				first[a.rule] = p
			}
		}
	}
	return first
}

// agreesWithBruteForce holds every limit against measuring at every percent.
func agreesWithBruteForce(t *testing.T, name string, d *stitchfile.Design, s report.Settings) (limits int) {
	rec := mustRecognise(d)
	z := mustLimit(rec, s)
	if z == nil {
		return 0
	}
	for _, way := range []report.Direction{report.Growing, report.Shrinking} {
		want, got := firstFails(rec, s, way), map[string]int{}
		step := 1
		if way == report.Shrinking {
			step = -1
		}
		for _, l := range z.Limits {
			if l.Direction != way {
				continue
			}
			if l.Already {
				if l.Scale != 1 {
					t.Errorf("%s: %+v", name, l)
				}
				continue
			}
			if (l.Measured-l.Now)*(l.Measured-l.Limit) < 0 || l.Measured == l.Now {
				t.Errorf("%s: %s %s goes from %.4g to %.4g, limit %.4g: not the way it must", name, way, l.Name, l.Now, l.Measured, l.Limit)
			}
			// One rule may have two limits; the nearer is where it begins to fail.
			if p := report.WholePercent(l.Scale, way) + step; got[l.Rule] == 0 || (got[l.Rule]-p)*step > 0 {
				got[l.Rule] = p
			}
		}
		for _, rule := range slices.Sorted(maps.Keys(want)) {
			if way == report.Growing && slices.Contains(easedByGrowing, rule) {
				continue // the same stitches on more cloth: see At
			}
			if got[rule] != want[rule] && !(beyondNearest(want, rule, step) && grainy(rule)) {
				t.Errorf("%s: %s, %s fails first at %d %%, the limit says %d %%", name, way, rule, want[rule], got[rule])
			}
			limits++
		}
		for rule, p := range got {
			if want[rule] == 0 && !grainy(rule) {
				t.Errorf("%s: %s, the limit of %s says %d %%, but it never fails", name, way, rule, p)
			}
		}
	}
	return limits
}

// grainy reports whether a rule comes and goes near its limit.
func grainy(rule string) bool {
	return slices.ContainsFunc(checks, func(c check) bool { return c.rule.ID == rule && c.stride > 0 })
}

// beyondNearest reports whether another rule fails before this one does.
func beyondNearest(want map[string]int, rule string, step int) bool {
	for other, p := range want {
		if other != rule && (want[rule]-p)*step > 0 {
			return true
		}
	}
	return false
}

// Every limit lies where measuring the whole design at every whole percent has it.
func TestLimitsAgreeWithBruteForce(t *testing.T) {
	wholeOnly(t)
	designs := map[string]*stitchfile.Design{"kettle-100.dst": truth.Demo(t, "kettle-100.dst")}
	if !testing.Short() {
		for _, name := range []string{"kettle-135-stretched.dst", "kettle-150-faulty.dst"} {
			designs[name] = truth.Demo(t, name)
		}
		for i, b := range truth.Blocks() {
			if i%19 == 0 {
				designs[b.Name] = b.Design
			}
		}
		for i, b := range truth.Passages() {
			if i%41 == 0 {
				designs[b.Name] = b.Design
			}
		}
	}
	s := report.DefaultSettings()
	s.HoopWidthMM, s.HoopHeightMM = 180, 130
	n := 0
	for _, name := range slices.Sorted(maps.Keys(designs)) {
		n += agreesWithBruteForce(t, name, designs[name], s)
	}
	if n == 0 {
		t.Error("no limit was met")
	}
}

// The same on designs of other people, which may be looked at but not passed on.
func TestLimitsAgreeWithBruteForceReal(t *testing.T) {
	const folder = "../../../shared/designs"
	if _, err := os.Stat(folder); err != nil {
		t.Skipf("no real stitch files at %s; they are not part of the repository", folder)
	}
	most := 1500 // stitches: larger ones take minutes
	if os.Getenv("STOPCARD_EVERY_DESIGN") != "" {
		most = 30_000
	}
	n, limits := 0, 0
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		d, _ := stitchfile.Open(path)
		if d == nil || d.Counts().Stitches > most {
			return nil
		}
		n++
		limits += agreesWithBruteForce(t, fmt.Sprintf("%s/%s", filepath.Base(filepath.Dir(path)), filepath.Base(path)), d, report.DefaultSettings())
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d designs, %d limits", n, limits)
}
