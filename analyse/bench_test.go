package analyse

import (
	"fmt"
	"testing"

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
			for b.Loop() {
				mustRun(d, report.DefaultSettings())
			}
			b.ReportMetric(b.Elapsed().Seconds()*1e9/float64(b.N)/float64(stitches), "ns/stitch")
		})
	}
}

func BenchmarkAnalyser(b *testing.B) {
	d := truth.Mixed(100_000)
	stitches := d.Counts().Stitches
	for _, a := range measure.Steps() {
		b.Run(a.Name, func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				p := mustPass(mustRecognise(d), report.DefaultSettings(), 1)
				for _, r := range measure.Steps() {
					if r == a {
						break
					}
					p.Do(r)
				}
				b.StartTimer()
				p.Do(a)
			}
			b.ReportMetric(b.Elapsed().Seconds()*1e9/float64(b.N)/float64(stitches), "ns/stitch")
		})
	}
}
