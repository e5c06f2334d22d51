package analyse_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

const sharedFolder = "../../shared"

// shared reads a file from the folder of shared designs, or skips the test.
func shared(t *testing.T, name string) *report.Report {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(sharedFolder, name))
	if err != nil {
		t.Skipf("the shared designs are not here: %v", err)
	}
	dec := stitchfile.Decoder{Name: filepath.Base(name)}
	d, err := dec.DecodeBytes(data)
	if d == nil {
		t.Skipf("%s cannot be read: %v", name, err)
	}
	return run(t, d)
}

func run(t *testing.T, d *stitchfile.Design) *report.Report {
	t.Helper()
	r, err := analyse.Run(context.Background(), d, analyse.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// handWorkOf lists what the hands do, one line a stop, such as
// "4: lay applique cloth 1 | hoop off, trim applique cloth 1, hoop on": what comes
// before the bar is done before the stop.
func handWorkOf(r *report.Report) []string {
	var out []string
	list := func(steps []report.Step) string {
		var words []string
		for _, s := range steps {
			if !s.Kind.Hands() && s.Kind != report.StepMayEnd {
				continue
			}
			text := s.Kind.String()
			if s.What != "" && s.Kind != report.StepMayEnd {
				text += " " + string(s.What)
			}
			for _, n := range s.Pieces {
				text += fmt.Sprint(" ", n)
			}
			words = append(words, text)
		}
		return strings.Join(words, ", ")
	}
	for _, s := range r.Stops {
		if before, after := list(s.BeforeSteps), list(s.AfterSteps); before+after != "" {
			out = append(out, strings.TrimSpace(fmt.Sprintf("%d: %s | %s", s.Number, before, after)))
		}
	}
	return out
}

// orderRules are the rules of pauses and order.
var orderRules = []string{"missing-pause", "no-pause-to-trim", "same-colour-pause", "cover-missing", "wrong-order", "drawn-in", "tack-down-astray", "open-outline"}

// alarms lists what the rules of pauses and order find above a note, such as
// "missing-pause warning 1".
func alarms(r *report.Report) []string {
	var out []string
	for _, f := range r.Findings {
		if slices.Contains(orderRules, f.Rule) && f.Severity.AtLeast(report.Caution) {
			out = append(out, fmt.Sprintf("%s %s %d", f.Rule, f.Severity, f.Stop))
		}
	}
	return out
}

// What must be said of designs whose truth is known: the hand work, and the alarms.
// The truth is that of shared/cases/CASES.md.
func TestRehearsalOfCases(t *testing.T) {
	const underside = "hoop off, turn over"
	piece := func(place, n int) string {
		return fmt.Sprintf("%d: lay applique cloth %d | hoop off, trim applique cloth %d, hoop on", place+1, n, n)
	}
	for _, c := range []struct {
		file   string
		hands  []string
		alarms []string
	}{
		{"nopause_cloth.dst", []string{
			"1: lay block cloth |", piece(2, 1),
			"5: may end, " + underside + ", lay batting, hoop on | " + underside + ", trim batting",
			"6: lay backing, hoop on |",
		}, []string{"missing-pause warning 1"}},
		{"nopause_back.dst", []string{
			"2: lay block cloth |", piece(3, 1),
			"6: may end, " + underside + ", lay batting, lay backing, hoop on |",
		}, []string{"missing-pause warning 6"}},
		{"battfirst.dst", []string{
			"2: lay batting | hoop off, trim batting, hoop on", "3: lay block cloth |", piece(4, 1),
			"8: may end, " + underside + ", lay backing, hoop on |",
		}, nil},
		{"mugrug.dst", []string{
			"2: lay batting | hoop off, trim batting, hoop on", "3: lay block cloth |", piece(4, 1),
			"7: lay backing | hoop off, trim, turn out",
		}, nil},
		{"badge.dst", []string{
			"2: lay applique cloth 1 |",
			"4: " + underside + ", lay backing, hoop on | hoop off, trim 1, hoop on",
		}, nil},
		{"zigzag-batting.dst", []string{
			"2: lay batting | hoop off, trim batting, hoop on", "3: lay block cloth |", piece(4, 1), piece(7, 2),
			"10: may end, " + underside + ", lay backing, hoop on |",
		}, nil},
		{"precut.dst", []string{"2: lay applique cloth 1 |"}, nil},
		{"stitchflip.dst", nil, nil},
		{"nopause_place.dst", []string{"2: lay block cloth |", piece(3, 1), piece(4, 2)}, []string{"missing-pause warning 5"}},
		{"placenostop.dst", []string{piece(0, 1)}, []string{"missing-pause warning 1"}},
		{"place-tack-one-stop.pec", []string{piece(0, 1)}, []string{"missing-pause warning 1"}},
		{"nocover.dst", []string{"2: lay block cloth |", piece(3, 1), piece(5, 2)}, []string{"cover-missing warning 6"}},
		{"order.dst", []string{piece(2, 1)}, []string{"wrong-order fault 2"}},
		{"raw-edge.pec", []string{piece(1, 1)}, nil},
		{"beancover.dst", []string{"2: lay applique cloth 1 | hoop off, trim applique cloth 1"}, nil},
		{"blanketcover.dst", []string{piece(1, 1)}, nil},
		{"filled-shape.jef", nil, nil},
		{"underlay3.dst", nil, nil},
	} {
		t.Run(c.file, func(t *testing.T) {
			r := shared(t, "cases/"+c.file)
			if diff := cmp.Diff(c.hands, handWorkOf(r)); diff != "" {
				t.Errorf("hand work (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(c.alarms, alarms(r)); diff != "" {
				t.Errorf("alarms (-want +got):\n%s", diff)
			}
		})
	}
}

// How the unusual steps are worded. Words that say which side, how close and when
// are what keeps a block from being spoilt.
func TestWordsOfCases(t *testing.T) {
	for _, c := range []struct {
		file, stop string
		want       string
	}{
		{"nopause_cloth.dst", "1 before", "lay the block cloth over the whole place now, right side up"},
		{"nopause_place.dst", "5 before", "when its line is sewn and the thread is cut, stop the machine by hand and lay the cloth over the line"},
		{"nopause_back.dst", "6 before", "fix the backing over it now, right side out"},
		{"battfirst.dst", "2 after", "trim the batting close to its line with large scissors; cut neither cloth nor stitches"},
		{"battfirst.dst", "3 before", "lay the block cloth over the batting, right side up"},
		{"battfirst.dst", "8 before", "fix the backing to the underside, right side out"},
		{"mugrug.dst", "7 before", "lay the backing face down on the front"},
		{"mugrug.dst", "7 after", "turn it right side out through the gap (50 mm)"},
		{"badge.dst", "4 after", "cut the cloth above and below close along the line"},
		{"precut.dst", "2 before", "cut to the line itself beforehand"},
		{"raw-edge.pec", "2 after", "the raw edge is meant to show"},
		{"nocover.dst", "6 after", "ask the pattern how close"},
		{"order.dst", "2 before", "the order cannot work"},
	} {
		r := shared(t, "cases/"+c.file)
		var texts []string
		for _, s := range r.Stops {
			for when, list := range map[string][]string{"before": s.Before, "after": s.After} {
				if fmt.Sprint(s.Number, " ", when) == c.stop {
					texts = list
				}
			}
		}
		if !strings.Contains(strings.Join(texts, "\n"), c.want) {
			t.Errorf("%s: stop %s says %q, and not %q", c.file, c.stop, texts, c.want)
		}
	}
}

// No hand work is asked for on real designs that were seen to have no applique.
func TestNoHandWorkOnRealDesigns(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(sharedFolder, "designs", "eyes.json"))
	if err != nil {
		t.Skipf("the shared designs are not here: %v", err)
	}
	var seen []struct{ File, Applique string }
	if err := json.Unmarshal(text, &seen); err != nil {
		t.Fatal(err)
	}
	for _, e := range seen {
		if e.Applique != "no" {
			continue
		}
		t.Run(e.File, func(t *testing.T) {
			r := shared(t, "designs/"+e.File)
			if h := handWorkOf(r); len(h) > 0 {
				t.Errorf("%s", strings.Join(h, "; "))
			}
			for _, s := range r.Stops {
				if len(r.Pieces) == 0 && len(s.LiesInHoop) > 0 {
					t.Errorf("stop %d: %v lies in the hoop", s.Number, s.LiesInHoop)
				}
			}
		})
	}
}
