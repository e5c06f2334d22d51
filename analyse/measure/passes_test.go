package measure

import (
	"context"
	"testing"

	"github.com/stopcard/stopcard/analyse/applique"
	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// The passes of a zigzag over an edge hide together: each hides as large a share of what the
// others leave bare.
func TestPassesOfAZigzagHideTogether(t *testing.T) {
	share := func(passes int) float64 {
		ring := st.Circle(st.Point{}, 25)
		b := new(st.Builder).Run(ring, 2.5).TieOff().Stop().Run(ring, 2.2).TieOff().Stop()
		for k := range passes {
			way := ring.Sample(400)
			b.OpenZigzag(append(way[k*133:], way[:k*133+1]...), 4, 1.6).Trim()
		}
		rec, err := applique.Recognise(context.Background(), b.TieOff().Design())
		if err != nil {
			t.Fatal(err)
		}
		p, err := NewPass(context.Background(), rec, report.DefaultSettings(), 1)
		for _, step := range Steps() {
			if err == nil {
				err = p.Do(step)
			}
		}
		if err != nil || len(p.Report.Pieces) != 1 || p.Report.Pieces[0].Finish != report.FinishZigzag {
			t.Fatalf("%d passes: %v, %+v, want one piece with a zigzag edge", passes, err, p.Report.Pieces)
		}
		return p.Report.Pieces[0].CoverShare.Min
	}
	one, two := share(1), share(2)
	if want := 1 - (1-one)*(1-one); two < want-0.06 || two > want+0.06 {
		t.Errorf("two passes hide %.3f of the cloth along the edge, want about %.3f: one hides %.3f", two, want, one)
	}
}
