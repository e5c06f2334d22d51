package analyse

import (
	"fmt"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// mixed is a design of about n stitches: fills, satin rings and runs, as a block
// has them, side by side.
func mixed(n int) *stitchfile.Design {
	b := new(st.Builder)
	for i := 0; len(b.Labels) < n; i++ {
		c := st.Point{X: float64(i%40) * 45, Y: float64(i/40%40) * 45}
		ring := st.Circle(c, 18)
		b.Run(ring, 2.5).Trim()
		b.DoubleRun(ring.Offset(0.5), 2.5).Trim()
		b.Satin(ring, st.SatinAlong{Width: 3.5, Pitch: 0.4}).TieOff().Trim()
		b.Fill(st.Circle(c, 10), 0.4, 3, 0.3).TieOff().Trim()
		b.TripleRun(ring.Offset(-3), 2.5).Trim()
		if i%8 == 7 {
			b.Stop()
		}
	}
	return b.Design()
}

func BenchmarkRun(b *testing.B) {
	for _, n := range []int{10_000, 100_000, 1_000_000} {
		d := mixed(n)
		stitches := d.Counts().Stitches
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Run(d, DefaultSettings())
			}
			b.ReportMetric(b.Elapsed().Seconds()*1e9/float64(b.N)/float64(stitches), "ns/stitch")
		})
	}
}

func BenchmarkAnalyser(b *testing.B) {
	d := mixed(100_000)
	stitches := d.Counts().Stitches
	for _, a := range Analysers() {
		b.Run(a.Name, func(b *testing.B) {
			for b.Loop() {
				b.StopTimer()
				p := NewPass(Recognise(d), DefaultSettings(), 1)
				for _, r := range Analysers() {
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
