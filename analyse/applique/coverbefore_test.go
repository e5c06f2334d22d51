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

// A zigzag over a run of its stop is no cover where a heavy line finishes the edge.
func TestZigzagBeneathAFinish(t *testing.T) {
	order := func(later sewing) evidence {
		tack, over := at(1, single, 0.5, 0), at(1, zigzag, 0.5, 2)
		return apart().orderEvidence(ringChain(tack, over, at(2, later, 1.2, 0)), &option{tack: tack, cover: []*round{over}})
	}
	weighsMore(t, "a zigzag before a single line, and before a bean line", order(single), order(triple), true)
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
