package analyse

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// alarms are the rules that give a warning or a fault.
func alarms(r *report.Report) []string {
	var out []string
	for _, f := range r.Findings {
		if f.Severity.AtLeast(report.Caution) && !slices.Contains(out, f.Rule) {
			out = append(out, f.Rule)
		}
	}
	return out
}

// Designs that are sound raise no alarm.
func TestSoundDesignsRaiseNoAlarm(t *testing.T) {
	wholeOnly(t)
	sound := 0
	ways := truth.Ways()
	for seed := range uint64(3) {
		ways = append(ways, truth.WaysBy(77+seed)...)
	}
	for _, w := range ways {
		if w.Verdict != truth.Sound {
			continue
		}
		sound++
		r := mustRun(w.Design, report.DefaultSettings())
		for _, f := range r.Findings {
			if f.Severity.AtLeast(report.Caution) {
				t.Errorf("%s: %s %s: %s", w.Name, f.Severity, f.Rule, f.Message)
			}
		}
	}
	t.Logf("%d sound designs", sound)
	if sound < 200 {
		t.Errorf("%d sound designs, want 200 at least", sound)
	}
}

// What an experienced eye says of real designs, picture beside finding: the alarms
// that one would tell a paying customer are raised, and those that one would not are
// not. The floors are what is reached; the eye has some error of its own.
func TestAlarmsOnRealDesigns(t *testing.T) {
	const leastRight, mostFalse = 68, 2
	folder := filepath.Join("..", "..", "shared", "designs")
	text, err := os.ReadFile(filepath.Join(folder, "eyes.json"))
	if err != nil {
		t.Skip("the folder of real designs is not here: ", err)
	}
	var eyes []struct {
		File  string   `json:"file"`
		Right []string `json:"right_alarms"`
		False []string `json:"false_alarms"`
	}
	if err := json.Unmarshal(text, &eyes); err != nil {
		t.Fatal(err)
	}
	right, wrong := 0, 0
	for _, e := range eyes {
		in, err := os.Open(filepath.Join(folder, e.File))
		if err != nil {
			t.Fatal(err)
		}
		d, _ := stitchfile.Decode(in)
		in.Close()
		if d == nil {
			continue // refused, and rightly
		}
		raised := alarms(mustRun(d, report.DefaultSettings()))
		for _, rule := range e.Right {
			if slices.Contains(raised, rule) {
				right++
			} else {
				t.Logf("%s: %s is not raised", e.File, rule)
			}
		}
		for _, rule := range e.False {
			if slices.Contains(raised, rule) {
				wrong++
				t.Logf("%s: %s is raised", e.File, rule)
			}
		}
	}
	if right < leastRight || wrong > mostFalse {
		t.Errorf("%d right alarms and %d false ones; want %d and more, %d and fewer", right, wrong, leastRight, mostFalse)
	}
}
