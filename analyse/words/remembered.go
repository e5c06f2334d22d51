package words

import (
	"math"
	"sync"
)

// mostRemembered bounds the colours whose distances to all words are remembered: a few
// kB each. The designs of a pack, and the formats of one, share their colours.
const mostRemembered = 512

var remembered struct {
	sync.Mutex
	of map[Lab][]float64
}

// fromWords gives how far a colour lies from what each word is used for, by CIEDE2000,
// in the order of named: infinitely far where it is too far for the word. It is not to be
// changed.
func fromWords(c Lab) []float64 {
	remembered.Lock()
	out, ok := remembered.of[c]
	remembered.Unlock()
	if ok {
		return out
	}
	all := named()
	out = make([]float64, len(all))
	best := math.Inf(1)
	for w := range all {
		out[w] = all[w].within(c, max(nextWord, best+nearlySo))
		best = min(best, out[w])
	}
	remembered.Lock()
	defer remembered.Unlock()
	if remembered.of == nil || len(remembered.of) >= mostRemembered {
		remembered.of = map[Lab][]float64{}
	}
	remembered.of[c] = out
	return out
}
