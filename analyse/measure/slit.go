package measure

// slitShare is the share of a bare stretch along which thread lies close beside the edge
// where it is a slit. Between stitches that cross the edge, at 45 degrees at least, a third
// of a gap has thread there at most.
const slitShare = 0.5

// slit reports whether the places from up to to, counted round the ring, are bare only
// because the edge runs between two stitches that lie along it: thread lies a tenth of a
// millimetre outside it, or a quarter inside, and the satin goes on past it. At the blunt
// end of a tip it does. However long such a slit is, it is no wider than threads are apart.
func (w *ringWork) slit(from, to int) bool {
	n, close := w.count(), 0
	for j := from; j < to; j++ {
		i := j % n
		if c := &w.cells[i/cellBits]; c.spare > ReachSlackMM && (c.hidden[fringe]|c.hidden[1])>>(i%cellBits)&1 == 1 {
			close++
		}
	}
	return float64(close) >= slitShare*float64(to-from)
}
