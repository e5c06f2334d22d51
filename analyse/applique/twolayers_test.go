package applique

import (
	"testing"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// Two lines round a block in one stop hold two layers whose pause was lost where the thread is
// cut or tied off between them, and one layer twice where it sews on.
func TestTwoLayersInOneStop(t *testing.T) {
	ring := st.Circle(st.Point{}, 20)
	frame := func(out float64) st.Path { return st.Rect(st.Point{}, 120+2*out, 120+2*out) }
	for _, c := range []struct {
		name string
		part func(b *st.Builder)
		want int // pauses that are missing
	}{
		{"cut", func(b *st.Builder) { b.Trim() }, 1},
		{"tied off", func(b *st.Builder) { b.TieOff() }, 1},
		{"sewn on", func(*st.Builder) {}, 0},
	} {
		b := new(st.Builder).Run(frame(0), 2.5).TieOff().Stop().Run(frame(0.5), 2.5).TieOff().Stop()
		b.Run(ring, 2.5).TieOff().Stop().Run(ring.Offset(0.5), 2).TieOff().Stop().Satin(ring, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff().Stop()
		b.Run(frame(0.8), 2.5)
		c.part(b)
		rec := recognised(t, b.Run(frame(0.6), 2.5).TieOff().Design())
		if got := len(rec.Rehearsal.Missing); got != c.want {
			t.Errorf("%s: %d pauses missing, want %d", c.name, got, c.want)
		}
	}
}
