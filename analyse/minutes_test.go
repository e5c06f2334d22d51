package analyse

import (
	"math"
	"testing"

	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
)

// The time at the machine and that of the hands are all the time there is, and hands
// that need longer change only theirs.
func TestMinutesOfMachineAndHands(t *testing.T) {
	d := truth.Demo(t, "kettle-100.dst")
	slow := report.DefaultSettings()
	slow.StopSeconds, slow.LaySeconds, slow.CutSeconds = 100, 100, 300
	a, b := mustRun(d, report.DefaultSettings()), mustRun(d, slow)
	for _, r := range []*report.Report{a, b} {
		if math.Abs(r.MachineMin+r.HandMin-r.Minutes) > 1e-9 || r.MachineMin <= 0 || r.HandMin <= 0 {
			t.Errorf("%.3f min of the machine and %.3f of the hands are not %.3f", r.MachineMin, r.HandMin, r.Minutes)
		}
	}
	if a.MachineMin != b.MachineMin || a.HandMin >= b.HandMin {
		t.Errorf("slow hands: machine %.3f and %.3f, hands %.3f and %.3f", a.MachineMin, b.MachineMin, a.HandMin, b.HandMin)
	}
}
