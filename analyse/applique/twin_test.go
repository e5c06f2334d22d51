package applique_test

import (
	"context"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/stitchfile"
)

// Formats of one size are recognised as one; what differs in a needle point or a cut is
// not taken for it.
func TestRecognisedOfAnotherFormat(t *testing.T) {
	ctx := context.Background()
	dst, pes := truth.Demo(t, "kettle-100.dst"), truth.Demo(t, "kettle-100.pes")
	rec, err := applique.Recognise(ctx, dst)
	if err != nil {
		t.Fatal(err)
	}
	want, err := applique.Recognise(ctx, pes)
	if err != nil {
		t.Fatal(err)
	}
	got, err := rec.Of(ctx, pes)
	if err != nil || got == nil {
		t.Fatalf("%v, %v of the same stitches", got, err)
	}
	if diff := cmp.Diff(want.Roles, got.Roles); diff != "" || got.Sewn.Design != pes || len(got.Pieces) != len(want.Pieces) {
		t.Errorf("of another format:\n%s", diff)
	}
	change := func(what string, f func(d *stitchfile.Design, mid int)) {
		d := *pes
		d.Moves = slices.Clone(pes.Moves)
		mid := slices.IndexFunc(d.Moves[len(d.Moves)/2:], func(m stitchfile.Move) bool { return m.Kind == stitchfile.Stitch }) + len(d.Moves)/2
		f(&d, mid)
		if got, err := rec.Of(ctx, &d); got != nil || err != nil {
			t.Errorf("%s: taken for the same", what)
		}
	}
	change("a needle point moved", func(d *stitchfile.Design, mid int) { d.Moves[mid].X += 3 })
	change("a thread cut", func(d *stitchfile.Design, mid int) {
		d.Moves = slices.Insert(d.Moves, mid, stitchfile.Move{X: d.Moves[mid].X, Y: d.Moves[mid].Y, Kind: stitchfile.Trim})
	})
	change("a stitch less", func(d *stitchfile.Design, mid int) { d.Moves = slices.Delete(d.Moves, mid, mid+1) })
	change("a stop more", func(d *stitchfile.Design, mid int) {
		d.Moves = slices.Insert(d.Moves, mid, stitchfile.Move{X: d.Moves[mid].X, Y: d.Moves[mid].Y, Kind: stitchfile.ColourStop})
	})
}
