package words

import "testing"

// A hoop given in whole inches holds a design of just that size, one tenth of a
// millimetre more does not fit: an inch is 25.4 mm exactly (international agreement of
// 1959), and 7 x 25.4 falls below 177.8 in floating point.
func TestHoopOfWholeInches(t *testing.T) {
	for n := 1; n <= 20; n++ {
		for m := n; m <= 20; m++ {
			h := Hoop{float64(n) * 25.4, float64(m) * 25.4}
			w, t2 := float64(n*254)/10, float64(m*254)/10
			if ok, turned := h.Holds(w, t2); !ok || turned {
				t.Errorf("%d x %d in: %v, turned %v", n, m, ok, turned)
			}
			if h.Room(w, t2) < 1 {
				t.Errorf("%d x %d in: room %v", n, m, h.Room(w, t2))
			}
			if ok, _ := h.Holds(w+0.1, t2+0.1); ok || h.Room(w+0.1, t2+0.1) >= 1 {
				t.Errorf("%d x %d in holds more than it has", n, m)
			}
		}
	}
}

func TestHoopTurned(t *testing.T) {
	h := Hoop{130, 180}
	for _, c := range []struct {
		w, h       float64
		ok, turned bool
	}{{130, 180, true, false}, {180, 130, true, true}, {170, 125, true, true}, {181, 10, false, false}, {131, 181, false, false}} {
		if ok, turned := h.Holds(c.w, c.h); ok != c.ok || turned != c.turned {
			t.Errorf("%v x %v: %v, turned %v", c.w, c.h, ok, turned)
		}
		if r := h.Room(c.w, c.h); (r >= 1) != c.ok {
			t.Errorf("%v x %v: room %v", c.w, c.h, r)
		}
	}
	if ok, _ := (Hoop{}).Holds(1, 1); ok || (Hoop{}).Room(1, 1) != 0 {
		t.Error("no hoop holds something")
	}
}
