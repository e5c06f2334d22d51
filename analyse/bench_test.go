package analyse

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/measure"
	"github.com/stopcard/stopcard/analyse/report"
)

func BenchmarkRun(b *testing.B) {
	for _, n := range []int{10_000, 100_000, 1_000_000} {
		d := truth.Mixed(n)
		stitches := d.Counts().Stitches
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			perStitch(b, stitches, func() { mustRun(d, report.DefaultSettings()) })
		})
	}
}

// perStitch times f, which goes over so many stitches. Beside the time on the clock it
// tells the processor time, which other work on the machine moves less.
func perStitch(b *testing.B, stitches int, f func()) {
	before := cpuTime()
	for b.Loop() {
		f()
	}
	each := 1 / float64(b.N) / float64(stitches)
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())*each, "ns/stitch")
	if cpu := cpuTime() - before; cpu > 0 {
		b.ReportMetric(float64(cpu.Nanoseconds())*each, "cpu-ns/stitch")
	}
}

// One loop times every step: a loop for each would spend its time on the steps before.
func BenchmarkSteps(b *testing.B) {
	d := truth.Mixed(100_000)
	stitches := d.Counts().Stitches
	rec := mustRecognise(d)
	took := map[string]time.Duration{}
	for b.Loop() {
		p := mustPass(rec, report.DefaultSettings(), 1)
		for _, step := range measure.Steps() {
			start := time.Now()
			p.Do(step)
			took[step.Name] += time.Since(start)
		}
	}
	for name, t := range took {
		b.ReportMetric(float64(t.Nanoseconds())/float64(b.N)/float64(stitches), strings.ReplaceAll(name, " ", "-")+"-ns/stitch")
	}
}
