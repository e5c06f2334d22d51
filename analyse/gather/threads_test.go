package gather

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// What is in the box is not bought, what runs out is bought for the rest, and lines
// that any thread does for need no spool. 10 % in reserve.
func TestGatherFromABox(t *testing.T) {
	spool := func(name, colour string, near report.Nearness) *report.Spool {
		return &report.Spool{Name: name, Colour: colour, Near: near}
	}
	r := &report.Report{Path: "block.dst", Stops: []report.Stop{
		{Number: 1, Colour: text("#aaaaaa"), AnyThread: true, NeedleThreadM: 2},
		{Number: 2, AnyThread: true, NeedleThreadM: 3},
		{Number: 3, Colour: text("#114726"), Spool: spool("pine", "#114740", report.NearClose), NeedleThreadM: 10},
		{Number: 4, Colour: text("#114730"), Spool: spool("pine", "#114740", report.NearClose), NeedleThreadM: 10},
		{Number: 5, Colour: text("#ff0000"), Spool: spool("pine", "#114740", report.NearOff), NeedleThreadM: 20},
		{Number: 6, Colour: text("#d81c27"), Spool: spool("brick", "#d81c27", report.NearSame), NeedleThreadM: 30},
		{Number: 7, Colour: text("#0000ff"), ThreadNoted: true, ThreadName: "the good blue", NeedleThreadM: 40},
		{Number: 8, ThreadNoted: true, ThreadName: "the good blue", NeedleThreadM: 50},
	}}
	left := 15.0
	s := report.DefaultSettings()
	s.Threads = []report.OwnThread{{Name: "pine", Colour: "#114740", LeftM: &left}, {Name: "brick", Colour: "#d81c27"}}
	g := DefaultSettings()
	want := []ThreadNeed{
		{Name: words.AnyThread, Stops: 2, Metres: 5, AnyThread: true},
		{Colour: text("#114740"), Name: "your pine", Stops: 2, Metres: 20, Own: "pine", LeftM: &left, BuyM: 7, Spools: 1, Noted: true},
		{Colour: text("#ff0000"), Name: "red", Stops: 1, Metres: 20, BuyM: 22, Spools: 1},
		{Colour: text("#d81c27"), Name: "your brick", Stops: 1, Metres: 30, Own: "brick", Noted: true},
		{Colour: text("#0000ff"), Name: "the good blue", Stops: 2, Metres: 90, BuyM: 99, Spools: 1, Noted: true},
	}
	if diff := cmp.Diff(want, Gather(All([]*report.Report{r}), s, g).Threads, cmpopts.EquateApprox(1e-9, 0)); diff != "" {
		t.Error(diff)
	}
}
