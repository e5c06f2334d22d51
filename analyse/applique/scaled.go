package applique

import (
	"github.com/stopcard/stopcard/analyse/geom"
)

// PiecesAt gives the pieces with every length multiplied by scale.
func PiecesAt(pieces []*Piece, scale float64) []*Piece {
	if scale == 1 {
		return pieces
	}
	lines := map[*Trace]*Trace{}
	line := func(t *Trace) *Trace {
		if t == nil {
			return nil
		}
		if lines[t] == nil {
			lines[t] = t.scaled(scale)
		}
		return lines[t]
	}
	all := func(in []*Trace) []*Trace {
		var out []*Trace
		for _, t := range in {
			out = append(out, line(t))
		}
		return out
	}
	of := make(map[*Piece]*Piece, len(pieces))
	out := make([]*Piece, len(pieces))
	for i, w := range pieces {
		c := *w
		c.Place, c.Tack = line(w.Place), line(w.Tack)
		c.Cover, c.Again, c.also = all(w.Cover), all(w.Again), all(w.also)
		c.Aside, c.LostBy = w.Aside*scale, w.LostBy*scale
		c.Like.mean, c.Like.Most = w.Like.mean*scale, w.Like.Most*scale
		of[w], out[i] = &c, &c
	}
	for _, c := range out {
		c.parent = of[c.parent]
		var holes []*Piece
		for _, h := range c.Holes {
			holes = append(holes, of[h])
		}
		c.Holes = holes
	}
	return out
}

// scaled is the line with every length multiplied by k.
func (t *Trace) scaled(k float64) *Trace {
	out := *t
	out.made, out.chain = nil, nil
	out.Line = make([]geom.Point, len(t.Line))
	for i, q := range t.Line {
		out.Line[i] = q.Times(k)
	}
	out.Opening, out.Length, out.stitch, out.sewn = k*t.Opening, k*t.Length, k*t.stitch, k*t.sewn
	out.Box = geom.Box{Lo: t.Box.Lo.Times(k), Hi: t.Box.Hi.Times(k)}
	return &out
}
