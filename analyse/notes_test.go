package analyse_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/notes"
	"github.com/stopcard/stopcard/analyse/report"
)

// A piece that is none is gone with its hand work; the others keep their numbers, in
// every size, whether it is told by its number or by its place.
func TestNotedPieceIsNone(t *testing.T) {
	d := truth.Demo(t, "kettle-150.pes")
	plain, err := analyse.Run(context.Background(), d, analyse.Options{})
	if err != nil {
		t.Fatal(err)
	}
	written, err := notes.Parse("k", notes.Write(plain, notes.SignOf(d)))
	if err != nil {
		t.Fatal(err)
	}
	byPlace := *written
	byPlace.Pieces = slices.Clone(written.Pieces)
	byPlace.Pieces[0].Applique, byPlace.Pieces[1].Cloth = false, "the blue check"
	byPlace.Pieces[0].Number, byPlace.Pieces[1].Number = 7, 8 // the place decides
	byNumber := &notes.Notes{Path: "k", Pieces: []notes.Piece{{Number: 1}, {Number: 2, Applique: true, Cloth: "the blue check"}}}
	for _, c := range []struct {
		name  string
		notes *notes.Notes
		file  string
	}{{"by number", byNumber, "kettle-150.pes"}, {"by number", byNumber, "kettle-100.dst"}, {"by place", &byPlace, "kettle-150.dst"}, {"by place", &byPlace, "kettle-100.jef"}, {"by place", &byPlace, "kettle-125.pes"}} {
		r, err := analyse.Run(context.Background(), truth.Demo(t, c.file), analyse.Options{Notes: c.notes})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Pieces) != 1 || r.Pieces[0].Number != 2 || r.Piece(2) == nil || r.Piece(1) != nil || r.Pieces[0].Cloth != "the blue check" {
			t.Errorf("%s: %s: %d pieces, %+v", c.name, c.file, len(r.Pieces), r.Notes)
			continue
		}
		for _, cloth := range r.Cloths {
			if cloth.Piece == 1 {
				t.Errorf("%s: %s: piece 1 is still to be cut", c.name, c.file)
			}
		}
		for _, s := range r.Stops[2:4] {
			if len(s.After) > 0 || strings.Contains(strings.Join(s.Before, " "), "piece 1") {
				t.Errorf("%s: %s: at stop %d: %q, %q", c.name, c.file, s.Number, s.Before, s.After)
			}
		}
	}
}

// Layers that only a person knows of are laid: a quilt block without applique.
func TestNotedLayers(t *testing.T) {
	d := truth.Demo(t, "kettle-150.pes")
	var all []notes.Stop
	for i := range 22 {
		role := report.RoleDecoration
		switch i + 1 {
		case 2:
			role = report.RoleClothHoldDown
		case 20:
			role = report.RoleBattingHoldDown
		case 21:
			role = report.RoleBackingHoldDown
		}
		all = append(all, notes.Stop{Number: i + 1, Role: role})
	}
	r, err := analyse.Run(context.Background(), d, analyse.Options{Notes: &notes.Notes{Path: "k", Stops: all}})
	if err != nil {
		t.Fatal(err)
	}
	var kinds []string
	for _, c := range r.Cloths {
		kinds = append(kinds, fmt.Sprint(c.Stop, " ", c.Kind))
	}
	if got := strings.Join(kinds, ", "); got != "2 block cloth, 20 batting, 21 backing" {
		t.Errorf("to cut: %s", got)
	}
	if !slices.ContainsFunc(r.Stops[19].BeforeSteps, func(s report.Step) bool { return s.Kind == report.StepTurnOver }) {
		t.Errorf("before the batting: %q", r.Stops[19].Before)
	}
}

// Notes that fit nothing are errors with their line, in the library too; what is noted
// where nothing can be made of it is said.
func TestNotesThatFitNothing(t *testing.T) {
	d := truth.Demo(t, "kettle-150.pes")
	for _, n := range []*notes.Notes{
		{Path: "k", Stops: []notes.Stop{{Number: 23, Role: report.RoleQuilting, Line: 4}}},
		{Path: "k", Pieces: []notes.Piece{{Number: 3, Line: 4}}},
	} {
		var at *notes.Error
		if _, err := analyse.Run(context.Background(), d, analyse.Options{Notes: n}); !errors.As(err, &at) || at.Line != 4 || at.Path != "k" || at.Expected == "" {
			t.Errorf("%+v: %v", n, err)
		}
	}
	bare := &notes.Notes{Path: "k", Stops: []notes.Stop{{Number: 11, Role: report.RolePlacementLine}}}
	r, err := analyse.Run(context.Background(), d, analyse.Options{Notes: bare})
	if err != nil || !strings.Contains(r.Notes.Message, "nothing lies along the lines of stop 11") {
		t.Errorf("%v, %+v", err, r.Notes)
	}
}

// Put right what was read wrongly, from Go.
func Example_notes() {
	n, err := notes.Parse("kettle-150.notes.toml", []byte("[[stop]]\nnumber = 3\nrole = \"decoration\"\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, o := range []analyse.Options{{}, {Notes: n}} {
		r, err := analyse.Run(context.Background(), demoBlock("kettle-150.pes"), o)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(len(r.Pieces), "pieces; stop 3:", r.Stops[2].Role)
	}
	// Output:
	// 2 pieces; stop 3: placement line
	// 1 pieces; stop 3: decoration
}

// Batting that a person notes to go on over the backing would lie on the outside: it is told,
// and not where the order is right or only one of the two goes on.
func TestNotedBattingOverBacking(t *testing.T) {
	batting, backing := report.RoleBattingHoldDown, report.RoleBackingHoldDown
	for _, c := range []struct {
		first, second string
		told          bool
	}{{backing, batting, true}, {batting, backing, false}, {backing, report.RoleQuilting, false}, {batting, report.RoleQuilting, false}} {
		n := &notes.Notes{Path: "k", Stops: []notes.Stop{{Number: 20, Role: c.first}, {Number: 21, Role: c.second}}}
		r, err := analyse.Run(context.Background(), truth.Demo(t, "kettle-150.pes"), analyse.Options{Notes: n})
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(r.Findings, func(f report.Finding) bool { return f.Rule == "wrong-order" })
		if i >= 0 != c.told || c.told && (r.Findings[i].Severity != report.Fault || r.Findings[i].Stop != 21) {
			t.Errorf("%s, then %s: %v", c.first, c.second, r.Findings)
		}
	}
}
