package analyse_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// hooped builds blocks stop by stop.
type hooped struct {
	stitchtest.Builder
	begun bool
}

func (h *hooped) next() *hooped {
	if h.begun {
		h.Stop()
	}
	h.begun = true
	return h
}

var centre = stitchtest.Point{}

// ring is the edge of the piece in these blocks.
var ring = stitchtest.Circle(centre, 25)

func square(side float64) stitchtest.Path { return stitchtest.Rect(centre, side, side) }

// line sews a line in a stop of its own.
func (h *hooped) line(p stitchtest.Path) *hooped { h.next().Run(p, 2.5).TieOff(); return h }

// ground sews the outline and the hold-down of the block cloth.
func (h *hooped) ground() *hooped { return h.line(square(100)).line(square(102)) }

// patch sews a piece: placement line, tack-down, what comes between, cover.
func (h *hooped) patch(between func(*hooped)) *hooped {
	h.line(ring)
	h.next().DoubleRun(ring.Offset(0.5), 2).TieOff()
	if between != nil {
		between(h)
	}
	h.next().Satin(ring, stitchtest.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff()
	return h
}

// seam is a line round a rectangle with an opening in its near side.
func seam(side, gap float64) stitchtest.Path {
	h := side / 2
	return stitchtest.Path{{X: gap / 2, Y: -h}, {X: h, Y: -h}, {X: h, Y: h}, {X: -h, Y: h}, {X: -h, Y: -h}, {X: -gap / 2, Y: -h}}
}

const (
	layCloth   = "2: lay block cloth |"
	patchSteps = "4: lay applique cloth 1 | hoop off, trim applique cloth 1, hoop on"
	below      = "hoop off, turn over, "
)

// The hand work of blocks made in the usual ways, and on each side of what parts one
// way from another.
func TestRehearsal(t *testing.T) {
	turned := func(gap float64) *stitchfile.Design {
		h := new(hooped).ground().patch(nil)
		p := seam(102, gap)
		h.next().Run(p, 2.5).Run(p.Reverse(), 2.5).TieOff()
		return h.Design()
	}
	embroidered := func(points int) *stitchfile.Design {
		h := new(hooped).ground().patch(func(h *hooped) {
			h.next().Run(stitchtest.Line(stitchtest.Point{X: -20}, stitchtest.Point{X: -20 + 2*float64(points-1)}), 2)
		})
		return h.Design()
	}
	badge := func(reach float64, embroider bool) *stitchfile.Design {
		h := new(hooped)
		h.line(ring)
		h.line(ring.Offset(0.4))
		if embroider {
			h.next().Fill(stitchtest.Circle(centre, 8), 0.4, 3, 0).TieOff()
		}
		h.line(ring.Offset(0.8))
		h.next().Satin(ring.Offset(3.2-reach), stitchtest.SatinAlong{Width: 6.4, Pitch: 0.4}).TieOff()
		return h.Design()
	}
	for _, c := range []struct {
		name   string
		design *stitchfile.Design
		want   []string
	}{
		{"batting last", new(hooped).ground().patch(nil).line(square(103)).line(square(104)).Design(), []string{
			layCloth, patchSteps, "6: may end, " + below + "lay batting, hoop on | " + below + "trim batting", "7: lay backing, hoop on |"}},
		{"batting without backing", new(hooped).ground().patch(nil).line(square(103)).line(stitchtest.Circle(centre, 35)).Design(), []string{
			layCloth, patchSteps, "6: may end, " + below + "lay batting, hoop on |"}},
		{"batting first", new(hooped).line(square(100)).line(square(99)).line(square(100)).patch(nil).Design(), []string{
			"2: lay batting | hoop off, trim batting, hoop on", "3: lay block cloth |", "5: lay applique cloth 1 | hoop off, trim applique cloth 1, hoop on"}},
		{"batting with lines of its own", new(hooped).line(square(90)).line(square(90)).ground().patch(nil).Design(), []string{
			"2: lay batting | hoop off, trim batting, hoop on", "4: lay block cloth |", "6: lay applique cloth 1 | hoop off, trim applique cloth 1, hoop on"}},
		{"the backing held twice", new(hooped).ground().patch(nil).line(square(103)).line(square(104)).line(square(104)).Design(), []string{
			layCloth, patchSteps, "6: may end, " + below + "lay batting, hoop on | " + below + "trim batting", "7: lay backing, hoop on |"}},
		{"batting inside the seam", new(hooped).ground().patch(nil).line(square(102 - 2*8.3)).line(square(104)).Design(), []string{
			layCloth, patchSteps, "6: may end, " + below + "lay batting, hoop on | " + below + "trim batting", "7: lay backing, hoop on |"}},
		{"a line further inside is no hold-down", new(hooped).ground().patch(nil).line(square(102 - 2*8.8)).line(square(104)).Design(), []string{
			layCloth, patchSteps, "7: " + below + "lay backing, hoop on |"}},
		{"a single line a little inside", new(hooped).ground().patch(nil).line(square(102 - 2*3.8)).Design(), []string{
			layCloth, patchSteps, "6: " + below + "lay backing, hoop on |"}},
		{"a single line further inside is decoration", new(hooped).ground().patch(nil).line(square(102 - 2*4.2)).Design(), []string{layCloth, patchSteps}},
		{"a seam with a gap to turn it through", turned(21), []string{layCloth, patchSteps, "6: lay backing | hoop off, trim, turn out"}},
		{"a seam with too small a gap", turned(19), []string{layCloth, patchSteps, "6: " + below + "lay backing, hoop on |"}},
		{"embroidery on the piece before its cover", embroidered(20), []string{layCloth,
			patchSteps, "6: trim applique cloth 1 |"}},
		{"a few stitches on the piece", embroidered(19), []string{layCloth, patchSteps}},
		{"badge", badge(2, true), []string{"2: lay applique cloth 1 |", "4: " + below + "lay backing, hoop on | hoop off, trim 1, hoop on"}},
		{"a second line with nothing between is no backing", badge(2, false), []string{"2: lay applique cloth 1 | hoop off, trim applique cloth 1, hoop on"}},
		{"cloth cut beforehand", new(hooped).line(ring).next().Satin(ring, stitchtest.SatinAlong{Width: 3.5, Pitch: 0.4}).Design(), []string{"2: lay applique cloth 1 |"}},
		{"no applique, lines round all", new(hooped).ground().line(stitchtest.Circle(centre, 30)).line(square(103)).Design(), nil},
	} {
		if diff := cmp.Diff(c.want, handWorkOf(run(t, c.design))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

// What lies in the hoop, and how, while each stop is sewn.
func TestLiesInHoop(t *testing.T) {
	r := run(t, new(hooped).ground().patch(nil).line(square(103)).line(square(104)).Design())
	var got []string
	for _, s := range r.Stops {
		var lies []string
		for _, l := range s.LiesInHoop[1:] {
			text := string(l.What) + " " + string(l.State)
			if l.Side == report.Underside {
				text += " below"
			}
			lies = append(lies, text)
		}
		got = append(got, strings.Join(lies, ", "))
		if first := s.LiesInHoop[0]; first.What != report.Stabiliser || first.State != report.Hooped {
			t.Errorf("stop %d: %v lies lowest", s.Number, first)
		}
	}
	want := []string{"", "block cloth laid", "block cloth held", "block cloth held, applique cloth laid", "block cloth held, applique cloth trimmed",
		"block cloth held, applique cloth covered, batting laid below",
		"block cloth held, applique cloth covered, batting trimmed below, backing laid below"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// The hoop never goes off the machine twice without going on, scissors only come
// while it is off, and the underside is only worked on while it is up.
func TestHoopOffForScissors(t *testing.T) {
	wholeOnly(t)
	for _, w := range toldOfWays() {
		off, up := false, false
		for _, s := range w.Report.Stops {
			for i, step := range slices.Concat(s.BeforeSteps, s.AfterSteps) {
				if i == len(s.BeforeSteps) && (off || up) {
					t.Errorf("%s: stop %d is sewn with the hoop off", w.Way.Name, s.Number)
				}
				switch step.Kind {
				case report.StepHoopOff:
					if off {
						t.Errorf("%s: stop %d: the hoop is off already", w.Way.Name, s.Number)
					}
					off = true
				case report.StepTurnOver:
					if !off || up {
						t.Errorf("%s: stop %d: turned over, off %t, up %t", w.Way.Name, s.Number, off, up)
					}
					up = true
				case report.StepHoopOn:
					if !off {
						t.Errorf("%s: stop %d: the hoop is on already", w.Way.Name, s.Number)
					}
					off, up = false, false
				case report.StepTrim:
					if !off && !strings.Contains(step.Text, "hoop off") {
						t.Errorf("%s: stop %d: scissors with the hoop on: %s", w.Way.Name, s.Number, step.Text)
					}
				}
			}
		}
	}
}

// The JSON of a step holds its kind, and reads back.
func TestStepsReadBack(t *testing.T) {
	r := run(t, new(hooped).ground().patch(nil).line(square(103)).line(square(104)).Design())
	for _, s := range r.Stops {
		text, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		var back report.Stop
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff([][]report.Step{s.BeforeSteps, s.AfterSteps}, [][]report.Step{back.BeforeSteps, back.AfterSteps}); diff != "" {
			t.Errorf("stop %d:\n%s", s.Number, diff)
		}
		if diff := cmp.Diff(s.LiesInHoop, back.LiesInHoop); diff != "" {
			t.Errorf("stop %d:\n%s", s.Number, diff)
		}
	}
	if err := json.Unmarshal([]byte(`{"kind":"juggle"}`), new(report.Step)); err == nil {
		t.Error("a kind that nobody knows was read")
	}
}
