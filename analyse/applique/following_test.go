package applique

import "testing"

// However well it is made, what one stop sews along its own line is never read as a
// piece: it need not be looked at.
func TestOneStopMakesNoPiece(t *testing.T) {
	for tack := single; tack <= motif; tack++ {
		for cover := zigzag; cover <= motif; cover++ {
			for _, inside := range []float64{0, 1.5, 3} {
				held, over := at(0, tack, inside, 0.4), at(0, cover, 0, 4)
				c := ringChain(held, over)
				for i := range c.samples {
					over.mask.set(i)
				}
				for _, o := range []option{{tack: held}, {cover: []*round{over}}, {tack: held, cover: []*round{over}}, {tack: held, cover: []*round{over}, reverse: true}} {
					if e := apart().weigh(c, &o); e >= leastScore {
						t.Errorf("a tack-down %v, a cover %v in the line's own stop weigh %.2f", tack, cover, e)
					}
				}
			}
		}
	}
}
