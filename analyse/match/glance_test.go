package match

import (
	"context"
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Designs that were only glanced at are told apart as those that were measured are.
func TestGlanceTellsWhatSignTells(t *testing.T) {
	var designs []*stitchfile.Design
	for _, set := range drawnSets(t) {
		designs = append(designs, set...)
		designs = append(designs, planted(set[0], planting{factor: 1.4}, 1))
	}
	if testing.Short() {
		designs = designs[:3]
	}
	var signs, glances []*Signature
	for i, d := range designs {
		name := fmt.Sprintf("design-%c.dst", 'a'+rune(i))
		signs = append(signs, signed(d, name))
		g, err := Glance(context.Background(), mustRecognise(d), report.DefaultSettings(), name)
		if err != nil {
			t.Fatal(err)
		}
		glances = append(glances, g)
	}
	want, got := mustMatch(signs), mustMatch(glances)
	if diff := cmp.Diff(want, got, cmpopts.IgnoreFields(measure.Spacing{}, "OuterCoverMM"), cmpopts.IgnoreUnexported(MatchedSize{}, MatchedFile{})); diff != "" {
		t.Errorf("of what is measured (-) a glance says something else (+):\n%s", diff)
	}
	if !testing.Short() && len(want.Designs) < 2 {
		t.Errorf("%d designs tell little", len(want.Designs))
	}
}

func TestGlanceEndsWithItsContext(t *testing.T) {
	ctx, end := context.WithCancel(context.Background())
	end()
	if s, err := Glance(ctx, mustRecognise(filledBadge(40)), report.DefaultSettings(), "a.dst"); s != nil || err == nil {
		t.Errorf("%v and no error under a context that has ended", s)
	}
}
