package render

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

func TestLyingText(t *testing.T) {
	stabiliser := report.Lying{What: report.Stabiliser, State: report.Hooped, Side: report.Face}
	for _, c := range []struct {
		want string
		lies []report.Lying
	}{
		{"", nil},
		{"", []report.Lying{stabiliser}},
		{"block cloth held, piece 2 laid", []report.Lying{stabiliser,
			{What: report.BlockCloth, State: report.Held, Side: report.Face},
			{What: report.AppliqueCloth, Piece: 2, State: report.Laid, Side: report.Face}}},
		{"piece 1 covered; underneath: batting trimmed, backing laid", []report.Lying{stabiliser,
			{What: report.Batting, State: report.Trimmed, Side: report.Underside},
			{What: report.AppliqueCloth, Piece: 1, State: report.Covered, Side: report.Face},
			{What: report.Backing, State: report.Laid, Side: report.Underside}}},
		{"backing face down laid", []report.Lying{{What: report.Backing, State: report.Laid, Side: report.Face, FaceDown: true}}},
	} {
		if got := lyingText(c.lies); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
