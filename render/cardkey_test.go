package render

import (
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// The foot of a card explains the words that its rows have.
func TestCardKey(t *testing.T) {
	for _, hands := range []bool{true, false} {
		r := &report.Report{Stops: []report.Stop{{Number: 1, Minutes: 5}, {Number: 2, Minutes: 5}}}
		if hands {
			r.Stops[1].BeforeSteps = []report.Step{{Kind: report.StepLay, What: report.AppliqueCloth, Pieces: []int{1}}}
		}
		c := &card{r: r, o: CardOptions{Paper: A4}}
		foot := strings.Join(c.footLines(true), " ")
		if strings.Contains(foot, "Hands in") != hands || strings.Contains(foot, "To the end") == hands {
			t.Errorf("hands %v: %s", hands, foot)
		}
	}
}
