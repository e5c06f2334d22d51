package analyse

// piecesAt gives the pieces with every length multiplied by scale.
func piecesAt(pieces []*pieceWork, scale float64) []*pieceWork {
	if scale == 1 {
		return pieces
	}
	lines := map[*trace]*trace{}
	line := func(t *trace) *trace {
		if t == nil {
			return nil
		}
		if lines[t] == nil {
			lines[t] = t.scaled(scale)
		}
		return lines[t]
	}
	of := make(map[*pieceWork]*pieceWork, len(pieces))
	out := make([]*pieceWork, len(pieces))
	for i, w := range pieces {
		c := *w
		c.place, c.tack, c.finish = line(w.place), line(w.tack), line(w.finish)
		c.also = nil
		for _, t := range w.also {
			c.also = append(c.also, line(t))
		}
		c.like.mean, c.like.most = w.like.mean*scale, w.like.most*scale
		of[w], out[i] = &c, &c
	}
	for _, c := range out {
		c.parent = of[c.parent]
		var holes []*pieceWork
		for _, h := range c.holes {
			holes = append(holes, of[h])
		}
		c.holes = holes
	}
	return out
}

// scaled is the line with every length multiplied by k.
func (t *trace) scaled(k float64) *trace {
	out := *t
	out.grid, out.under, out.over = nil, nil, nil
	out.line = make([]Point, len(t.line))
	for i, q := range t.line {
		out.line[i] = q.times(k)
	}
	out.opening, out.length, out.stitch, out.sewn = k*t.opening, k*t.length, k*t.stitch, k*t.sewn
	out.box = box{t.box.lo.times(k), t.box.hi.times(k)}
	return &out
}
