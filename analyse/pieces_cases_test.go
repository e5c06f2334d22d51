package analyse_test

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// How the pieces of designs of known truth are made: CASES.md of the shared folder
// tells it.
func TestPiecesOfCases(t *testing.T) {
	type piece struct {
		place, tack, cover                   int
		finish                               report.Finish
		preCut, oneStop, tackCover, coverOff bool
	}
	satin := func(place, tack, cover int) piece {
		return piece{place: place, tack: tack, cover: cover, finish: report.FinishSatin}
	}
	for _, c := range []struct {
		file string
		want []piece
	}{
		{"bean-tack.exp", []piece{satin(1, 2, 3)}},
		{"blanket-flower.dst", []piece{satin(1, 2, 3)}},
		{"openzig-banana.exp", []piece{satin(1, 2, 3)}},
		{"block-bean-placement.dst", []piece{satin(3, 4, 5), satin(6, 7, 8)}},
		{"place-tack-one-stop.pec", []piece{{1, 1, 2, report.FinishSatin, false, true, false, false}}},
		{"placenostop.dst", []piece{{1, 1, 2, report.FinishSatin, false, true, false, false}}},
		{"raw-edge.pec", []piece{{1, 2, 0, report.FinishRaw, false, false, false, false}}},
		{"beancover.dst", []piece{{1, 2, 0, report.FinishRaw, false, false, false, false}}},
		{"blanketcover.dst", []piece{{1, 2, 3, report.FinishBlanket, false, false, false, false}}},
		{"filled-shape.jef", nil},
		{"underlay3.dst", nil},
		{"stitchflip.dst", nil},
		{"zigzag-batting.dst", []piece{satin(4, 5, 6), satin(7, 8, 9)}},
		{"nopause_cloth.dst", []piece{satin(2, 3, 4)}},
		{"nopause_place.dst", []piece{satin(3, 4, 6), {5, 5, 6, report.FinishSatin, false, true, false, false}}},
		{"nopause_back.dst", []piece{satin(3, 4, 5)}},
		{"nocover.dst", []piece{satin(3, 4, 7), {5, 6, 0, report.FinishMissing, false, false, false, false}}},
		{"order.dst", []piece{{1, 3, 2, report.FinishSatin, false, false, false, true}}},
		{"battfirst.dst", []piece{satin(4, 5, 6)}},
		{"mugrug.dst", []piece{satin(4, 5, 6)}},
		{"badge.dst", []piece{satin(1, 2, 5)}},
		{"precut.dst", []piece{{1, 0, 2, report.FinishSatin, true, false, false, false}}},
		{"shiftout23.dst", []piece{satin(3, 4, 8), satin(5, 6, 8)}},
		{"capped-house.pes", []piece{satin(1, 2, 3)}},
		{"open-corners.dst", []piece{satin(1, 2, 3)}},
	} {
		t.Run(c.file, func(t *testing.T) {
			r := shared(t, "cases/"+c.file)
			var got []piece
			for _, p := range r.Pieces {
				got = append(got, piece{p.PlacementStop, p.TackDownStop, p.CoverStop, p.Finish, p.PreCut, p.OneStop, p.TackCover, p.CoverFirst})
			}
			if len(got) != len(c.want) {
				t.Fatalf("pieces %v, want %v", got, c.want)
			}
			for i := range got {
				if got[i] != c.want[i] {
					t.Errorf("piece %d: %v, want %v", i+1, got[i], c.want[i])
				}
			}
		})
	}
}
