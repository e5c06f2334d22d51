package render

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
)

// Colours that no file gave are not passed off as those of the design.
func TestInvented(t *testing.T) {
	p := hooped()
	if got := invented(p.r); got != "" {
		t.Errorf("all colours are told: %q", got)
	}
	p.r.Stops[1].Thread.Colour.A = 0
	if got := invented(p.r); got != "The file tells no colour for stop 2: those here only tell stops apart." {
		t.Errorf("%q", got)
	}
	for i := range p.r.Stops {
		p.r.Stops[i].Thread.Colour.A = 0
	}
	if got := invented(p.r); got != "The file tells no thread colours: these only tell the stops apart." {
		t.Errorf("%q", got)
	}
	if got := invented(&report.Report{}); got != "" {
		t.Errorf("no stops: %q", got)
	}
}
