package analyse_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
)

// What the ways of making must reach, and what they reach now. A floor is raised
// whenever more is reached, and never lowered; the goal is what is meant.
var waysReached = []struct {
	name        string
	floor, goal float64 // share
	most, aim   int     // count
}{
	{name: "roles", floor: 0.99, goal: 0.98},
	{name: "roles without applique", floor: 0.999, goal: 0.98},
	{name: "pieces", floor: 0.99, goal: 0.98},
	{name: "lay invented without applique", most: 0},
	{name: "trim invented without applique", most: 0},
	{name: "lay invented", most: 0},
	{name: "trim invented", most: 0},
	{name: "lay missing", most: 3},
	{name: "trim missing where tack-down and cover are", most: 1},
	{name: "trim missing", most: 2},
	{name: "turn over missing", most: 1},
	{name: "missing pauses not told", most: 0},
	{name: "missing pauses made up", most: 0},
	{name: "flaws not told", most: 0},
	{name: "findings on the other demo block", most: 0},
	{name: "other numbers: roles", floor: 0.995, goal: 0.98},
	{name: "other numbers: roles without applique", floor: 0.997, goal: 0.98},
	{name: "other numbers: pieces", floor: 0.992, goal: 0.98},
	{name: "other numbers: lay invented without applique", most: 0},
	{name: "other numbers: trim invented without applique", most: 0},
	{name: "other numbers: lay invented", most: 1},
	{name: "other numbers: trim invented", most: 1},
	{name: "other numbers: lay missing", most: 3},
	{name: "other numbers: trim missing where tack-down and cover are", most: 2},
	{name: "other numbers: trim missing", most: 3},
	{name: "other numbers: turn over missing", most: 1},
	{name: "sound designs with a warning", most: 2},
}

// reachShare and reachCount hold a figure against its floor.
func reachShare(t *testing.T, name string, right, of int) {
	t.Helper()
	for _, r := range waysReached {
		if r.name == name {
			got := float64(right) / float64(max(1, of))
			t.Logf("%s: %d of %d, %.1f %% (goal %.0f %%)", name, right, of, 100*got, 100*r.goal)
			if got < r.floor {
				t.Errorf("%s: %.2f %%, and it was %.2f", name, 100*got, 100*r.floor)
			}
			return
		}
	}
	t.Fatalf("no floor for %q", name)
}

func reachCount(t *testing.T, name string, n int) {
	t.Helper()
	for _, r := range waysReached {
		if r.name == name {
			t.Logf("%s: %d (goal %d)", name, n, r.aim)
			if n > r.most {
				t.Errorf("%s: %d, and it was %d", name, n, r.most)
			}
			return
		}
	}
	t.Fatalf("no floor for %q", name)
}

// told is a way with what the analysis says of it.
type told struct {
	truth.Way
	*report.Report
}

var toldOfWays = sync.OnceValue(func() []told { return tell(truth.Ways()) })

func tell(ways []truth.Way) []told {
	var out []told
	for _, w := range ways {
		r, err := analyse.Run(context.Background(), w.Design, analyse.Options{})
		if err != nil {
			panic(w.Name + ": " + err.Error())
		}
		out = append(out, told{w, r})
	}
	return out
}

// right tells which stops have a role that is right.
func (w *told) right(i int) bool {
	s := &w.Report.Stops[i]
	return slices.Contains(w.Way.Stops[i], s.Role)
}

// Roles: of the stops of every way of making, 98 in 100 are to be right.
func TestWaysRoles(t *testing.T) { holdRoles(t, "", toldOfWays()) }

// With other numbers the same ways are told as well: nothing was fitted to the
// designs that are looked at every day.
func TestWaysWithOtherNumbers(t *testing.T) {
	wholeOnly(t)
	if testing.Short() {
		t.Skip("another set takes seconds")
	}
	seeds := otherSeeds
	if os.Getenv("STOPCARD_EVERY_DESIGN") == "" {
		seeds = seeds[:1]
	}
	for _, seed := range seeds {
		ways := tell(truth.WaysBy(seed))
		holdRoles(t, "other numbers: ", ways)
		holdHands(t, "other numbers: ", ways)
	}
}

var otherSeeds = []uint64{7, 19880817, 3, 4000}

func holdRoles(t *testing.T, set string, ways []told) {
	t.Helper()
	all, families := confusion{}, map[string]*confusion{}
	pieces, counted := 0, 0
	for _, w := range ways {
		if len(w.Report.Stops) != len(w.Way.Stops) {
			t.Errorf("%s: %d stops, want %d", w.Way.Name, len(w.Report.Stops), len(w.Way.Stops))
			continue
		}
		f := families[w.Family]
		if f == nil {
			f = &confusion{}
			families[w.Family] = f
		}
		var wrong []string
		for i, s := range w.Report.Stops {
			want, right := w.Way.Stops[i][0], w.right(i)
			if right {
				want = s.Role
			} else {
				wrong = append(wrong, fmt.Sprintf("stop %d is %s, not %s", s.Number, s.Role, want))
			}
			all.add(want, s.Role, right)
			f.add(want, s.Role, right)
		}
		if w.Way.Pieces >= 0 {
			counted++
			if len(w.Report.Pieces) == w.Way.Pieces {
				pieces++
			} else {
				wrong = append(wrong, fmt.Sprintf("%d pieces, not %d", len(w.Report.Pieces), w.Way.Pieces))
			}
		}
		if len(wrong) > 0 {
			t.Logf("%s: %s: %s", w.Family, w.Way.Name, strings.Join(wrong, "; "))
		}
	}
	for name, f := range families {
		t.Logf("%s: %d of %d stops, %.2f %%", name, f.right, f.seen, 100*f.share())
	}
	t.Logf("all ways:\n%s", &all)
	reachShare(t, set+"roles", all.right, all.seen)
	f := families[truth.FamilyNoApplique]
	reachShare(t, set+"roles without applique", f.right, f.seen)
	reachShare(t, set+"pieces", pieces, counted)
}

// toldHand is hand work that the report asks for, before a stop.
type toldHand struct {
	kind, what string
	slot       int
	text       string
}

// handsTold lists the hand work of a report.
func handsTold(r *report.Report) []toldHand {
	var out []toldHand
	add := func(steps []report.Step, slot int) {
		for _, s := range steps {
			switch s.Kind {
			case report.StepLay:
				out = append(out, toldHand{truth.Lay, string(s.What), slot, s.Text})
			case report.StepTrim:
				out = append(out, toldHand{truth.Trim, string(s.What), slot, s.Text})
			case report.StepTurnOver:
				out = append(out, toldHand{truth.Turn, "", slot, s.Text})
			}
		}
	}
	for _, s := range r.Stops {
		add(s.BeforeSteps, s.Number)
		add(s.AfterSteps, s.Number+1)
	}
	return out
}

func (h toldHand) fits(want truth.Hand) bool {
	return h.kind == want.Kind && want.From <= h.slot && h.slot <= want.To &&
		(h.what == "" || want.What == "" || h.what == want.What)
}

// handTable counts hand work by what it is.
type handTable struct {
	names []string
	rows  map[string]*[4]int // wanted and told, missing, invented, may be told and is
}

func (h *handTable) add(name string, column int) {
	if h.rows == nil {
		h.rows = map[string]*[4]int{}
	}
	if h.rows[name] == nil {
		h.rows[name] = new([4]int)
		h.names = append(h.names, name)
	}
	h.rows[name][column]++
}

func (h *handTable) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-40s%10s%10s%10s%10s", "hand work", "told", "missing", "invented", "allowed")
	slices.Sort(h.names)
	for _, n := range h.names {
		r := h.rows[n]
		fmt.Fprintf(&b, "\n%-40s%10d%10d%10d%10d", n, r[0], r[1], r[2], r[3])
	}
	return b.String()
}

// Hand work: nothing is to be laid or trimmed where there is no applique, and
// no trim may be missing where there are a tack-down and a cover.
func TestWaysHands(t *testing.T) { holdHands(t, "", toldOfWays()) }

func holdHands(t *testing.T, set string, ways []told) {
	t.Helper()
	var table handTable
	count := map[string]int{}
	for _, w := range ways {
		hands := handsTold(w.Report)
		var wrong []string
		for _, want := range w.Hands {
			found := slices.ContainsFunc(hands, func(h toldHand) bool { return h.fits(want) })
			name := w.Family + ": " + want.Kind + " " + want.What
			switch {
			case want.May:
				if found {
					table.add(name, 3)
				}
			case found:
				table.add(name, 0)
			default:
				table.add(name, 1)
				count[want.Kind+" missing"]++
				if want.Kind == truth.Trim && want.What == truth.AppliqueCloth && hasTackAndCover(&w.Way) {
					count["trim missing where tack-down and cover are"]++
				}
				wrong = append(wrong, fmt.Sprintf("no %s %s before stop %d", want.Kind, want.What, want.From))
			}
		}
		for _, h := range hands {
			if h.kind == truth.Turn || slices.ContainsFunc(w.Hands, func(want truth.Hand) bool { return h.fits(want) }) {
				continue
			}
			table.add(w.Family+": "+h.kind+" "+h.what, 2)
			count[h.kind+" invented"]++
			if w.Family == truth.FamilyNoApplique {
				count[h.kind+" invented without applique"]++
			}
			wrong = append(wrong, fmt.Sprintf("before stop %d: %q", h.slot, h.text))
		}
		if len(wrong) > 0 {
			t.Logf("%s: %s: %s", w.Family, w.Way.Name, strings.Join(wrong, "; "))
		}
	}
	t.Logf("hand work of all ways:\n%s", &table)
	for _, name := range []string{"lay invented without applique", "trim invented without applique", "lay invented", "trim invented",
		"lay missing", "trim missing where tack-down and cover are", "trim missing", "turn over missing"} {
		reachCount(t, set+name, count[name])
	}
}

// hasTackAndCover tells whether a design has tack-downs and covers in stops of
// their own.
func hasTackAndCover(w *truth.Way) bool {
	tack, cover := false, false
	for _, roles := range w.Stops {
		tack = tack || roles[0] == report.RoleTackDown
		cover = cover || roles[0] == report.RoleCoverSatin
	}
	return tack && cover
}

// Confidence is the share of answers of that confidence that are right.
func TestWaysCalibration(t *testing.T) {
	var seen, right [11]int
	for _, w := range toldOfWays() {
		for i, s := range w.Report.Stops {
			tenth := min(10, max(0, int(s.Confidence*10+1e-9)))
			seen[tenth]++
			if w.right(i) {
				right[tenth]++
			}
		}
	}
	for i := range seen {
		if seen[i] == 0 {
			continue
		}
		share := float64(right[i]) / float64(seen[i])
		t.Logf("confidence from %.1f: %5d stops, %5.1f %% right", float64(i)/10, seen[i], 100*share)
		if i >= calibratedFrom && share < float64(i)/10 {
			t.Errorf("confidence from %.1f: only %.1f %% right", float64(i)/10, 100*share)
		}
	}
}

// calibratedFrom is the tenth of confidence from which answers are held to it.
const calibratedFrom = 1

// tellsOfPause tells whether a rule is one of missing pauses.
func tellsOfPause(rule string) bool {
	return strings.Contains(rule, "pause") && rule != "same-colour-pause"
}

// flawRules are what the names of the rules have in them that tell of a flaw.
var flawRules = map[string]string{truth.FlawNoCover: "cover", truth.FlawWrongOrder: "order", truth.FlawAstray: "astray", truth.FlawNoTack: "tack-down-missing", truth.FlawOpen: "open-outline",
	truth.FlawFarInside: "edge-uncovered", truth.FlawSewnOn: "missing-pause"}

// Each pause that is missing is told, and no other; so are the other flaws.
func TestWaysFlaws(t *testing.T) {
	count := map[string]int{}
	for _, w := range toldOfWays() {
		var wrong []string
		for _, m := range w.Missing {
			if !slices.ContainsFunc(w.Findings, func(f report.Finding) bool {
				return tellsOfPause(f.Rule) && f.Severity.AtLeast(report.Caution) && f.Stop >= m.From-1 && f.Stop <= m.To+1
			}) {
				count["missing pauses not told"]++
				wrong = append(wrong, fmt.Sprintf("not told: no pause to %s %s at stop %d", m.Kind, m.What, m.From))
			}
		}
		for _, flaw := range w.Wrong {
			if !slices.ContainsFunc(w.Findings, func(f report.Finding) bool {
				return strings.Contains(f.Rule, flawRules[flaw.What]) && slices.Contains(flaw.Stops, f.Stop)
			}) {
				count["flaws not told"]++
				wrong = append(wrong, fmt.Sprintf("not told: %s at stops %v", flaw.What, flaw.Stops))
			}
		}
		for _, f := range w.Findings {
			if tellsOfPause(f.Rule) && len(w.Missing) == 0 && f.Severity.AtLeast(report.Caution) && w.Family != truth.FamilyFlawed {
				count["missing pauses made up"]++
				wrong = append(wrong, f.Message)
			}
		}
		if len(wrong) > 0 {
			t.Logf("%s: %s: %s", w.Family, w.Way.Name, strings.Join(wrong, "; "))
		}
	}
	for _, name := range []string{"missing pauses not told", "missing pauses made up", "flaws not told"} {
		reachCount(t, name, count[name])
	}
}

// A sound design gets nothing above a note.
func TestWaysSound(t *testing.T) {
	bad, seen, rules := 0, 0, map[string]int{}
	for _, w := range toldOfWays() {
		if w.Verdict != truth.Sound {
			continue
		}
		seen++
		var wrong []string
		for _, f := range w.Findings {
			if f.Severity.AtLeast(report.Caution) {
				rules[f.Rule]++
				wrong = append(wrong, fmt.Sprintf("%s at stop %d: %s", f.Rule, f.Stop, f.Message))
			}
		}
		if len(wrong) > 0 {
			bad++
			t.Logf("%s: %s: %s", w.Family, w.Way.Name, strings.Join(wrong, "; "))
		}
	}
	t.Logf("%d sound designs, rules told of them: %v", seen, rules)
	reachCount(t, "sound designs with a warning", bad)
}
