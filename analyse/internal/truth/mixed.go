package truth

import (
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Mixed is a design of about n stitches: fills, satin rings and runs, as a block
// has them, side by side.
func Mixed(n int) *stitchfile.Design {
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
