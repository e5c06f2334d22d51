package words

import (
	"image/color"
	"math"
	"testing"
)

// The pairs of Table I of Sharma, Wu and Dalal, "The CIEDE2000 Color-Difference
// Formula", Color Research and Application 30 (2005) 21-30.
var sharmaPairs = []struct {
	p, q Lab
	want float64
}{
	{Lab{50, 2.6772, -79.7751}, Lab{50, 0, -82.7485}, 2.0425},
	{Lab{50, 3.1571, -77.2803}, Lab{50, 0, -82.7485}, 2.8615},
	{Lab{50, 2.8361, -74.0200}, Lab{50, 0, -82.7485}, 3.4412},
	{Lab{50, -1.3802, -84.2814}, Lab{50, 0, -82.7485}, 1.0000},
	{Lab{50, -1.1848, -84.8006}, Lab{50, 0, -82.7485}, 1.0000},
	{Lab{50, -0.9009, -85.5211}, Lab{50, 0, -82.7485}, 1.0000},
	{Lab{50, 0, 0}, Lab{50, -1, 2}, 2.3669},
	{Lab{50, -1, 2}, Lab{50, 0, 0}, 2.3669},
	{Lab{50, 2.4900, -0.0010}, Lab{50, -2.4900, 0.0009}, 7.1792},
	{Lab{50, 2.4900, -0.0010}, Lab{50, -2.4900, 0.0010}, 7.1792},
	{Lab{50, 2.4900, -0.0010}, Lab{50, -2.4900, 0.0011}, 7.2195},
	{Lab{50, 2.4900, -0.0010}, Lab{50, -2.4900, 0.0012}, 7.2195},
	{Lab{50, -0.0010, 2.4900}, Lab{50, 0.0009, -2.4900}, 4.8045},
	{Lab{50, -0.0010, 2.4900}, Lab{50, 0.0010, -2.4900}, 4.8045},
	{Lab{50, -0.0010, 2.4900}, Lab{50, 0.0011, -2.4900}, 4.7461},
	{Lab{50, 2.5, 0}, Lab{50, 0, -2.5}, 4.3065},
	{Lab{50, 2.5, 0}, Lab{73, 25, -18}, 27.1492},
	{Lab{50, 2.5, 0}, Lab{61, -5, 29}, 22.8977},
	{Lab{50, 2.5, 0}, Lab{56, -27, -3}, 31.9030},
	{Lab{50, 2.5, 0}, Lab{58, 24, 15}, 19.4535},
	{Lab{50, 2.5, 0}, Lab{50, 3.1736, 0.5854}, 1.0000},
	{Lab{50, 2.5, 0}, Lab{50, 3.2972, 0}, 1.0000},
	{Lab{50, 2.5, 0}, Lab{50, 1.8634, 0.5757}, 1.0000},
	{Lab{50, 2.5, 0}, Lab{50, 3.2592, 0.3350}, 1.0000},
	{Lab{60.2574, -34.0099, 36.2677}, Lab{60.4626, -34.1751, 39.4387}, 1.2644},
	{Lab{63.0109, -31.0961, -5.8663}, Lab{62.8187, -29.7946, -4.0864}, 1.2630},
	{Lab{61.2901, 3.7196, -5.3901}, Lab{61.4292, 2.2480, -4.9620}, 1.8731},
	{Lab{35.0831, -44.1164, 3.7933}, Lab{35.0232, -40.0716, 1.5901}, 1.8645},
	{Lab{22.7233, 20.0904, -46.6940}, Lab{23.0331, 14.9730, -42.5619}, 2.0373},
	{Lab{36.4612, 47.8580, 18.3852}, Lab{36.2715, 50.5065, 21.2231}, 1.4146},
	{Lab{90.8027, -2.0831, 1.4410}, Lab{91.1528, -1.6435, 0.0447}, 1.4441},
	{Lab{90.9257, -0.5406, -0.9208}, Lab{88.6381, -0.8985, -0.7239}, 1.5381},
	{Lab{6.7747, -0.2908, -2.4247}, Lab{5.8714, -0.0985, -2.2286}, 0.6377},
	{Lab{2.0776, 0.0795, -1.1350}, Lab{0.9033, -0.0636, -0.5514}, 0.9082},
}

func TestCIEDE2000(t *testing.T) {
	for i, c := range sharmaPairs {
		for _, got := range []float64{CIEDE2000(c.p, c.q), CIEDE2000(c.q, c.p)} {
			if math.Abs(got-c.want) > 0.0001 {
				t.Errorf("pair %d: %.4f, want %.4f", i+1, got, c.want)
			}
		}
	}
}

// Black and white are 100 apart, red and lime 86.61 (by calculation from IEC 61966-2-1).
func TestCIEDE2000OfScreens(t *testing.T) {
	for _, c := range []struct {
		p, q color.RGBA
		want float64
	}{{color.RGBA{0, 0, 0, 255}, color.RGBA{255, 255, 255, 255}, 100}, {color.RGBA{255, 0, 0, 255}, color.RGBA{0, 255, 0, 255}, 86.61}} {
		if got := CIEDE2000(LabOf(c.p), LabOf(c.q)); math.Abs(got-c.want) > 0.05 {
			t.Errorf("%v and %v are %.3f apart, want %.2f", c.p, c.q, got, c.want)
		}
	}
}

// What is beyond a distance for its lightness alone is so for all of it.
func TestBeyond(t *testing.T) {
	grey := Lab{L: 50}
	for _, c := range sharmaPairs {
		for _, p := range []Lab{c.p, grey} {
			if d := CIEDE2000(p, c.q); beyond(p, c.q, d+1e-9) {
				t.Errorf("%v and %v are %.4f apart, not beyond", p, c.q, d)
			}
		}
	}
	// Two greys differ in lightness alone.
	if p, d := (Lab{L: 60}), CIEDE2000(grey, Lab{L: 60}); !beyond(grey, p, d-1e-9) || beyond(grey, p, d+1e-9) {
		t.Errorf("greys %.4f apart are beyond less: %t, more: %t", d, beyond(grey, p, d-1e-9), beyond(grey, p, d+1e-9))
	}
}

func TestLabOf(t *testing.T) {
	for _, c := range []struct {
		rgb  color.RGBA
		want Lab
	}{
		// Red as quoted in public colour test suites; the others by calculation
		// from IEC 61966-2-1.
		{color.RGBA{255, 0, 0, 255}, Lab{53.24, 80.09, 67.20}},
		{color.RGBA{0, 255, 0, 255}, Lab{87.74, -86.18, 83.19}},
		{color.RGBA{0, 0, 255, 255}, Lab{32.30, 79.20, -107.86}},
		{color.RGBA{128, 128, 128, 255}, Lab{53.585, 0, 0}},
		{color.RGBA{255, 255, 255, 255}, Lab{100, 0, 0}},
	} {
		got := LabOf(c.rgb)
		if math.Abs(got.L-c.want.L)+math.Abs(got.A-c.want.A)+math.Abs(got.B-c.want.B) > 0.05 {
			t.Errorf("%v: %v, want %v", c.rgb, got, c.want)
		}
	}
}

func TestHex(t *testing.T) {
	for _, c := range []color.RGBA{{0, 0, 0, 255}, {1, 171, 255, 255}} {
		if got, ok := ParseHex(Hex(c)); !ok || got != c {
			t.Errorf("%v comes back as %v, %t", c, got, ok)
		}
	}
	for _, text := range []string{"", "#", "#12345", "#1234567", "123456", "#12345g", "#-12345", "#+12345"} {
		if c, ok := ParseHex(text); ok {
			t.Errorf("%q is read as %v", text, c)
		}
	}
}
