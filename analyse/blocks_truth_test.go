package analyse_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// handWork are the steps that only applique, batting and backing ask for.
func handWork(k report.StepKind) bool {
	switch k {
	case report.StepLay, report.StepTrim, report.StepHoopOff, report.StepHoopOn, report.StepTurnOver:
		return true
	}
	return false
}

func hasStep(steps []report.Step, k report.StepKind) bool {
	return slices.ContainsFunc(steps, func(s report.Step) bool { return s.Kind == k })
}

// Of the colour stops laid with a known purpose, 95 in 100 must be told rightly.
// No trim may be missed where cloth is to be trimmed, and no hand work asked for
// where there is no applique.
func TestBlocksTruth(t *testing.T) {
	wholeOnly(t)
	var all confusion
	for _, c := range truth.Blocks() {
		r := mustRun(c.Design, report.DefaultSettings())
		if len(r.Stops) != len(c.Stops) {
			t.Errorf("%s: %d stops, want %d", c.Name, len(r.Stops), len(c.Stops))
			continue
		}
		for i, s := range r.Stops {
			want := c.Stops[i]
			right := slices.Contains(want.Roles, s.Role)
			if right {
				all.add(s.Role, s.Role, true)
			} else {
				all.add(want.Roles[0], s.Role, false)
				t.Logf("%s: stop %d of %d: %s (%s), want %q", c.Name, s.Number, len(r.Stops), s.Role, s.Reason, want.Roles)
			}
			for _, role := range want.Parts {
				if !slices.ContainsFunc(s.Parts, func(p report.Part) bool { return p.Role == role }) {
					t.Errorf("%s: stop %d has no part that is %s: %v", c.Name, s.Number, role, s.Parts)
				}
			}
			var next []report.Step
			if i+1 < len(r.Stops) {
				next = r.Stops[i+1].BeforeSteps
			}
			if want.Trim && !hasStep(s.AfterSteps, report.StepTrim) && !hasStep(next, report.StepTrim) {
				t.Errorf("%s: nothing is trimmed after stop %d (%s)", c.Name, s.Number, s.Role)
			}
			var before []report.Step
			if i > 0 {
				before = r.Stops[i-1].AfterSteps
			}
			if want.Lay && !hasStep(s.BeforeSteps, report.StepLay) && !hasStep(before, report.StepLay) {
				t.Errorf("%s: nothing is laid before stop %d (%s)", c.Name, s.Number, s.Role)
			}
			if c.Applique {
				continue
			}
			for _, step := range slices.Concat(s.BeforeSteps, s.AfterSteps) {
				if handWork(step.Kind) {
					t.Errorf("%s: no applique, and yet at stop %d: %s", c.Name, s.Number, step.Text)
				}
			}
		}
		holes := 0
		for _, p := range r.Pieces {
			holes += p.Holes
		}
		if len(r.Pieces) != c.Pieces || holes != c.Holes {
			t.Errorf("%s: %d pieces with %d holes, want %d with %d", c.Name, len(r.Pieces), holes, c.Pieces, c.Holes)
		}
	}
	t.Logf("all blocks:\n%s", &all)
	if all.share() < 0.95 {
		t.Errorf("%.1f %% of colour stops are told rightly, want 95", 100*all.share())
	}
}

// Colours say nothing of what a stop does: without them, or with one for all,
// roles and steps stay.
func TestBlocksWithoutColours(t *testing.T) {
	for i, c := range truth.Blocks() {
		if i%4 > 0 {
			continue // the turned and mirrored copies
		}
		with := mustRun(c.Design, report.DefaultSettings())
		plain := *c.Design
		plain.Threads = nil
		for i, s := range mustRun(&plain, report.DefaultSettings()).Stops {
			if w := with.Stops[i]; s.Role != w.Role {
				t.Errorf("%s: stop %d: %s, and %s without colours", c.Name, s.Number, w.Role, s.Role)
			}
		}
	}
}

// What a format cannot hold, such as colours, halts, or written trims, must not
// change what the stops are taken for.
func TestBlocksThroughFormats(t *testing.T) {
	wholeOnly(t)
	for _, format := range stitchtest.Formats() {
		var all confusion
		for i, c := range truth.Blocks() {
			if i%4 > 0 || i%8 > 0 && format != "DST" {
				continue
			}
			data, err := stitchtest.Encode(format, c.Design)
			if err != nil {
				t.Fatalf("%s: %s: %v", c.Name, format, err)
			}
			dec := stitchfile.Decoder{Name: "block." + strings.ToLower(format)} // some have no mark of their own
			d, err := dec.Decode(bytes.NewReader(data))
			if err != nil {
				t.Fatalf("%s: %s: %v", c.Name, format, err)
			}
			r := mustRun(d, report.DefaultSettings())
			if len(r.Stops) != len(c.Stops) {
				t.Errorf("%s: %s: %d stops, want %d", c.Name, format, len(r.Stops), len(c.Stops))
				continue
			}
			for i, s := range r.Stops {
				right := slices.Contains(c.Stops[i].Roles, s.Role)
				all.add(c.Stops[i].Roles[0], s.Role, right)
				if c.Stops[i].Trim && !hasStep(s.AfterSteps, report.StepTrim) {
					t.Errorf("%s: %s: nothing is trimmed after stop %d (%s)", c.Name, format, s.Number, s.Role)
				}
			}
		}
		if all.share() < 0.95 {
			t.Errorf("%s: %s", format, &all)
		}
	}
}
