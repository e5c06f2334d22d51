package applique

import "testing"

// Satin that lies along half of a line may be a cover sewn before its tack-down; what lies
// along less belongs to another edge.
func TestHowMuchACoverBeforeReachesAlong(t *testing.T) {
	for _, v := range []struct {
		share float64
		want  bool
	}{{0.55, true}, {0.45, false}} {
		over, tack := at(1, satinMade, 0, 4), at(2, double, 0.3, 0)
		c := ringChain(over, tack)
		for i := range int(v.share * float64(c.samples)) {
			over.mask.set(i)
		}
		if got := c.coverBefore(tack) != nil; got != v.want {
			t.Errorf("satin along %.2f of a line is its cover, sewn first: %v", v.share, got)
		}
	}
}

// What lies open enough to hold cloth is no cover that was sewn too early.
func TestOpenSatinIsNoCoverSewnFirst(t *testing.T) {
	order := func(sparse bool) evidence {
		over, tack := at(1, satinMade, 0, 2), at(2, blanket, 0.3, 2)
		over.sparse = sparse
		return apart().orderEvidence(ringChain(over, tack), &option{tack: tack, cover: []*round{over}, reverse: true})
	}
	weighsMore(t, "close satin before a blanket stitch, and open satin", order(false), order(true), true)
}
