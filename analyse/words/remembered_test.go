package words

import (
	"image/color"
	"testing"
)

// A colour has the same words whether it is remembered or not, and no more are
// remembered than are meant to be.
func TestRemembered(t *testing.T) {
	c := []color.RGBA{{12, 90, 90, 255}, {200, 30, 60, 255}}
	first := ColourNames(c)
	for i := range 2 * mostRemembered {
		ColourNames([]color.RGBA{{byte(i), byte(i >> 8), 77, 255}})
		if n := len(remembered.of); n > mostRemembered {
			t.Fatalf("%d colours are remembered, more than %d", n, mostRemembered)
		}
	}
	for range 2 {
		if again := ColourNames(c); again[0] != first[0] || again[1] != first[1] {
			t.Errorf("%v, before %v", again, first)
		}
	}
}
