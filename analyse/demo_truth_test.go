package analyse_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/testdata/demo"
)

// The demo block that is made another way: batting first, tacked down with a
// zigzag, finished with a blanket stitch.
func TestAnotherDemoTruth(t *testing.T) {
	plain := []string{report.RoleDecoration, report.RoleStitching, report.RoleQuilting}
	stops := [][]string{
		{report.RoleClothOutline, report.RoleBattingHoldDown}, {report.RoleBattingHoldDown}, {report.RoleClothHoldDown}, plain,
		{report.RolePlacementLine}, {report.RoleTackDown}, {report.RolePlacementLine}, {report.RoleTackDown}, {report.RolePlacementLine}, {report.RoleTackDown},
		plain, plain, plain, {report.RoleCoverSatin, report.RoleEdgeRun}, plain, plain, plain, plain, {report.RoleBackingHoldDown},
	}
	r, err := analyse.Run(context.Background(), truth.Demo(t, demo.Another), analyse.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Stops) != len(stops) || len(r.Pieces) != 3 {
		t.Fatalf("%d stops and %d pieces, want %d and 3", len(r.Stops), len(r.Pieces), len(stops))
	}
	for i, s := range r.Stops {
		if !slices.Contains(stops[i], s.Role) {
			t.Errorf("stop %d is %s (%s), want %s", s.Number, s.Role, s.Reason, stops[i][0])
		}
	}
	hands := handsTold(r)
	for _, want := range []truth.Hand{
		{Kind: truth.Lay, What: truth.Batting, From: 2, To: 2},
		{Kind: truth.Lay, What: truth.BlockCloth, From: 3, To: 3},
		{Kind: truth.Lay, What: truth.AppliqueCloth, From: 6, To: 6}, {Kind: truth.Trim, What: truth.AppliqueCloth, From: 7, To: 14},
		{Kind: truth.Lay, What: truth.AppliqueCloth, From: 8, To: 8}, {Kind: truth.Trim, What: truth.AppliqueCloth, From: 9, To: 14},
		{Kind: truth.Lay, What: truth.AppliqueCloth, From: 10, To: 10}, {Kind: truth.Trim, What: truth.AppliqueCloth, From: 11, To: 14},
		{Kind: truth.Turn, From: 19, To: 19},
		{Kind: truth.Lay, What: truth.Backing, From: 19, To: 19},
	} {
		if !slices.ContainsFunc(hands, func(h toldHand) bool { return h.fits(want) }) {
			t.Errorf("not told: %s %s before stop %d", want.Kind, want.What, want.From)
		}
	}
	bad := 0
	for _, f := range r.Findings {
		if f.Severity.AtLeast(report.Caution) {
			bad++
			t.Logf("%s at stop %d: %s", f.Rule, f.Stop, f.Message)
		}
	}
	reachCount(t, "findings on the other demo block", bad)
}
