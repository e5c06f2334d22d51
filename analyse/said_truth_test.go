package analyse_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/analyse/report"
)

// runNoted analyses a design with roles noted for its stops; "" is nothing.
func runNoted(t *testing.T, w *truth.Way, roles func(stop int) string) *report.Report {
	t.Helper()
	said := &notes.Notes{Path: "way.notes.toml"}
	for i := range w.Stops {
		if role := roles(i); role != "" {
			said.Stops = append(said.Stops, notes.Stop{Number: i + 1, Role: role})
		}
	}
	r, err := analyse.Run(context.Background(), w.Design, analyse.Options{Notes: said})
	if err != nil {
		t.Fatalf("%s: %v", w.Name, err)
	}
	return r
}

// Whoever notes what each stop is gets the pieces that are there, where the stitches
// alone do not tell them all. What is still missed lies too far off its line to be
// one piece with it.
func TestNotedRolesMakePieces(t *testing.T) {
	wholeOnly(t)
	right, n, before := 0, 0, 0
	for i, w := range toldOfWays() {
		r := runNoted(t, &w.Way, func(stop int) string { return w.Way.Stops[stop][0] })
		for k, s := range r.Stops {
			if s.Role != w.Way.Stops[k][0] || s.Confidence != 1 || s.Reason != "as you noted" {
				t.Errorf("%s: stop %d is %s (%v, %s), noted as %s", w.Way.Name, s.Number, s.Role, s.Confidence, s.Reason, w.Way.Stops[k][0])
			}
		}
		if w.Way.Pieces < 0 {
			continue
		}
		n++
		if len(r.Pieces) == w.Way.Pieces {
			right++
		}
		if len(toldOfWays()[i].Report.Pieces) == w.Way.Pieces {
			before++
		}
	}
	t.Logf("pieces right with roles noted: %d of %d, without: %d", right, n, before)
	if right < before-2 || float64(right) < 0.985*float64(n) {
		t.Errorf("pieces right with roles noted: %d of %d, and it was 0.985 of them; without: %d", right, n, before)
	}
}

// Whoever notes that there is no applique is asked for none of its hand work.
func TestNotedDecorationAsksForNothing(t *testing.T) {
	for i, w := range toldOfWays() {
		if i%5 > 0 || len(w.Report.Pieces) == 0 {
			continue
		}
		r := runNoted(t, &w.Way, func(int) string { return report.RoleDecoration })
		for _, s := range r.Stops {
			for _, step := range slices.Concat(s.BeforeSteps, s.AfterSteps) {
				if handWork(step.Kind) {
					t.Errorf("%s: all is noted as decoration, and yet at stop %d: %s", w.Way.Name, s.Number, step.Text)
				}
			}
		}
		if len(r.Pieces)+len(r.Cloths) > 0 {
			t.Errorf("%s: all is noted as decoration, and yet %d pieces, %d cloths", w.Way.Name, len(r.Pieces), len(r.Cloths))
		}
	}
}

// One stop noted as it was inferred changes nothing else; one noted otherwise takes its
// pieces with it.
func TestNotedRoleOfOneStop(t *testing.T) {
	for i, w := range toldOfWays() {
		if i%25 > 0 || len(w.Report.Pieces) == 0 {
			continue
		}
		k := w.Report.Pieces[0]
		same := runNoted(t, &w.Way, func(stop int) string {
			if stop == k.PlacementStop-1 {
				return w.Report.Stops[stop].Role
			}
			return ""
		})
		if w.Report.Stops[k.PlacementStop-1].Role == report.RolePlacementLine && len(same.Pieces) < len(w.Report.Pieces) {
			t.Errorf("%s: stop %d noted as the placement line it is loses pieces: %d, want %d", w.Way.Name, k.PlacementStop, len(same.Pieces), len(w.Report.Pieces))
		}
		other := runNoted(t, &w.Way, func(stop int) string {
			if stop == k.PlacementStop-1 {
				return report.RoleDecoration
			}
			return ""
		})
		for _, p := range other.Pieces {
			if p.PlacementStop == k.PlacementStop {
				t.Errorf("%s: stop %d is noted as decoration and yet has the placement line of piece %d", w.Way.Name, k.PlacementStop, p.Number)
			}
		}
	}
}
