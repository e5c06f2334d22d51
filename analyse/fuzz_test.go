package analyse

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"slices"
	"sync/atomic"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// patch is a small applique block: placement line, tack-down, satin over both, and
// a fill in a fourth stop.
func patch() *stitchfile.Design {
	edge := st.Circle(st.Point{}, 8)
	b := new(st.Builder).Run(edge, 2.5).TieOff().Stop()
	b.DoubleRun(edge, 2.5).TieOff().Stop()
	b.Satin(edge, st.SatinAlong{Width: 3, Pitch: 0.8}).TieOff().Stop()
	return b.Fill(st.Rect(st.Point{X: 20}, 6, 6), 0.6, 3, 0).TieOff().Design()
}

// workLimit is a context that ends after so many looks at it. Work looks at its context
// after a number of steps, so that it is limited by what it does and not by the clock,
// which on a laden machine tells nothing.
type workLimit struct {
	context.Context
	left atomic.Int64
}

var errTooMuchWork = errors.New("too much work")

func (w *workLimit) Err() error {
	if w.left.Add(-1) < 0 {
		return errTooMuchWork
	}
	return nil
}

// mostLooks is how often a design of a fuzz target may have its context looked at: more
// than a hundred times as often as a small block has.
const mostLooks = 4000

// workLimited is the report of a design, which must not take more work than that.
func workLimited(t *testing.T, d *stitchfile.Design, s report.Settings) *report.Report {
	t.Helper()
	w := &workLimit{Context: context.Background()}
	w.left.Store(mostLooks)
	r, err := Run(w, d, Options{Settings: &s})
	if err != nil {
		t.Fatalf("%d moves: %v", len(d.Moves), err)
	}
	return r
}

// The limit holds no honest design up, and does hold.
func TestWorkLimit(t *testing.T) {
	w := &workLimit{Context: context.Background()}
	w.left.Store(mostLooks)
	d := patch()
	if _, err := Run(w, d, Options{}); err != nil {
		t.Fatal(err)
	}
	if took := mostLooks - w.left.Load(); took > mostLooks/100 {
		t.Errorf("a small block takes %d looks of %d", took, mostLooks)
	}
	w.left.Store(0)
	if _, err := Run(w, d, Options{}); !errors.Is(err, errTooMuchWork) {
		t.Errorf("without a look left: %v", err)
	}
}

// FuzzReport holds the way from bytes to a report to what must be so of any file.
func FuzzReport(f *testing.F) {
	line := new(st.Builder).Run(st.Line(st.Point{}, st.Point{X: 12, Y: 5}), 2).Design()
	for _, format := range st.Formats() {
		for _, d := range []*stitchfile.Design{patch(), line, {}} {
			data, err := st.Encode(format, d)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 20_000 {
			return
		}
		d, err := new(stitchfile.Decoder).DecodeBytes(data)
		if d == nil {
			if err == nil {
				t.Fatal("neither a design nor an error")
			}
			return
		}
		s := report.DefaultSettings()
		s.HoopWidthMM, s.HoopHeightMM = 100, 60
		moves := slices.Clone(d.Moves)
		r := workLimited(t, d, s)
		// Numbers that are not finite have no JSON, so this finds them all.
		report, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		checkReport(t, d, r)
		again, err := json.Marshal(workLimited(t, d, s))
		if err != nil || !bytes.Equal(report, again) {
			t.Errorf("a second run differs: %v\n%s\n%s", err, report, again)
		}
		if !slices.Equal(moves, d.Moves) {
			t.Error("the design was changed")
		}
	})
}

// checkReport holds what a report says of a design to the design and to itself.
func checkReport(t *testing.T, d *stitchfile.Design, r *report.Report) {
	t.Helper()
	if n := d.Counts(); r.Stitches != n.Stitches || r.Jumps != n.Jumps || r.Trims > n.Trims || r.ColourStops != len(r.Stops) {
		t.Errorf("%d stitches, %d jumps, %d trims, %d of %d stops; the design holds %+v", r.Stitches, r.Jumps, r.Trims, r.ColourStops, len(r.Stops), n)
	}
	var sum report.Stop
	for i, stop := range r.Stops {
		if stop.Number != i+1 || stop.Stitches < 1 || stop.Confidence < 0 || stop.Confidence > 1 {
			t.Errorf("stop %d: %+v", i+1, stop)
		}
		if b := stop.BoundsMM; b[0] > b[2] || b[1] > b[3] || max(-b[0], b[2]) > r.WidthMM/2+1e-6 || max(-b[1], b[3]) > r.HeightMM/2+1e-6 {
			t.Errorf("stop %d lies at %v in %g x %g", i+1, b, r.WidthMM, r.HeightMM)
		}
		sum.Stitches += stop.Stitches
		sum.Jumps += stop.Jumps
		sum.Trims += stop.Trims
		sum.Minutes += stop.Minutes
		sum.NeedleThreadM += stop.NeedleThreadM
		sum.BobbinThreadM += stop.BobbinThreadM
		sum.NeedleUpMM += stop.NeedleUpMM
	}
	// Jumps in a part that sews nothing belong to no stop.
	if sum.Stitches != r.Stitches || sum.Jumps > r.Jumps || sum.Trims != r.Trims {
		t.Errorf("the stops hold %d stitches, %d jumps, %d trims, the whole %d, %d, %d", sum.Stitches, sum.Jumps, sum.Trims, r.Stitches, r.Jumps, r.Trims)
	}
	for _, v := range [][2]float64{{sum.Minutes, r.Minutes}, {sum.NeedleThreadM, r.NeedleThreadM}, {sum.BobbinThreadM, r.BobbinThreadM}, {sum.NeedleUpMM, r.NeedleUpMM}} {
		if v[1] < 0 || math.Abs(v[0]-v[1]) > 1e-6*(1+v[1]) {
			t.Errorf("the stops sum to %g, the whole is %g", v[0], v[1])
		}
	}

	stopOf := func(what string, n, least int) {
		if n < least || n > len(r.Stops) {
			t.Errorf("%s is of stop %d of %d", what, n, len(r.Stops))
		}
	}
	for _, f := range r.Findings {
		stopOf(f.Rule, f.Stop, 0)
		if f.Severity.Rank() == 0 || f.Message == "" || f.Advice == "" {
			t.Errorf("%+v", f)
		}
	}
	for _, c := range r.SatinColumns {
		stopOf("a column", c.Stop, 1)
		for _, share := range []float64{c.Coverage, c.CoverageOut, c.CoverageIn, c.ThinCoverage} {
			if share < 0 || share > 1+1e-9 {
				t.Errorf("a column covers %+v", c)
			}
		}
	}
	for _, p := range r.Pieces {
		for _, n := range []int{p.PlacementStop, p.TackDownStop, p.CoverStop} {
			stopOf("a piece", n, 0)
		}
		bare := 0.0
		for _, g := range p.Gaps {
			bare += g.LengthMM
		}
		if p.AreaMM2 < 0 || p.PerimeterMM < 0 || math.Abs(bare-p.UncoveredMM) > 1e-6*(1+bare) {
			t.Errorf("piece %d: %g mm2, %g of %g mm bare in gaps of %g mm", p.Number, p.AreaMM2, p.UncoveredMM, p.PerimeterMM, bare)
		}
	}
	if len(r.Kinds) != len(d.Moves) {
		t.Errorf("%d kinds of %d moves", len(r.Kinds), len(d.Moves))
	}
	end := 0
	for _, p := range r.Passages {
		stopOf("a passage", p.Stop, 1)
		if p.First < end || p.Last < p.First || p.Last > len(d.Moves) || p.Column >= len(r.SatinColumns) {
			t.Errorf("passage %+v after move %d", p, end)
		}
		end = p.First
	}
}
