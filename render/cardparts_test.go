package render

import (
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

func TestPartsText(t *testing.T) {
	r := &report.Report{Pieces: []report.Piece{{Number: 1, PlacementStop: 3, TackDownStop: 4, CoverStop: 9}, {Number: 2, PlacementStop: 3, CoverStop: 9}}}
	part := func(role string, piece int) report.Part { return report.Part{Role: role, Piece: piece} }
	for _, c := range []struct {
		stop report.Stop
		want string
	}{
		{report.Stop{Number: 1, Role: "decoration"}, ""},
		{report.Stop{Number: 4, Role: "tack-down"}, "piece 1"},
		{report.Stop{Number: 3, Role: "placement line"}, "pieces 1 and 2"},
		{report.Stop{Number: 9, Role: "cover satin", Parts: []report.Part{part("cover satin", 1), part("cover satin", 2)}}, "pieces 1 and 2"},
		{report.Stop{Number: 9, Role: "cover satin", Parts: []report.Part{part("cover satin", 1), part("edge run", 1), part("cover satin", 2), part("edge run", 2)}},
			"cover satin of pieces 1 and 2; edge run of pieces 1 and 2"},
		{report.Stop{Number: 5, Role: "decoration", Parts: []report.Part{part("decoration", 0), part("quilting", 0)}}, "decoration; quilting"},
	} {
		if got := partsText(r, &c.stop); got != c.want {
			t.Errorf("stop %d: %q, want %q", c.stop.Number, got, c.want)
		}
	}
	if got := numberList([]int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}); got != "1 to 10" {
		t.Error(got)
	}
	if got := numberList([]int{1, 2, 3, 4, 5, 6, 7, 8, 10, 11}); got != "1, 2, 3, 4, 5, 6, 7, 8 and others" {
		t.Error(got)
	}
}

// A stop of several parts is told by them, without its role before it once more.
func TestCardTellsARoleOnce(t *testing.T) {
	d := sampler(samplerColours...)
	r := mustRun(d, report.DefaultSettings())
	s := &r.Stops[1]
	s.Role, s.Parts = "placement line", []report.Part{{Role: "placement line", Piece: 1}, {Role: "edge run"}}
	var told string
	for _, l := range newCard(d, r, CardOptions{}, CardDPI).rows[1].lines {
		told += strings.ReplaceAll(l.text, "\u00a0", " ") + " "
	}
	if !strings.Contains(told, "Placement line of piece 1; edge run") || strings.Contains(told, "Placement line, placement line") {
		t.Errorf("the row says %q", told)
	}
}
