package rules

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// Cells hang together by sides and corners, and places come the worst first.
func TestPlacesPast(t *testing.T) {
	g := &report.Grid{CellMM: 2, X: 10, Y: 20, NX: 6, NY: 4}
	v := []float32{
		5, 0, 0, 0, 0, 0,
		0, 6, 0, 0, 0, 3,
		0, 0, 7, 0, 0, 0,
		0, 0, 0, 0, 8, 0,
	}
	got := placesPast(g, v, 4)
	if len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	if p := got[0]; p.value != 8 || p.cells != 1 || p.across != 0 || p.at.X != 19 || p.at.Y != 27 {
		t.Errorf("the worst place: %+v", p)
	}
	if p := got[1]; p.value != 7 || p.cells != 3 || p.across != 4 || p.at.X != 15 || p.at.Y != 25 {
		t.Errorf("three cells by their corners: %+v", p)
	}
	if got := placesPast(g, v, 8); len(got) != 0 {
		t.Errorf("past the most: %+v", got)
	}
}
