package geom

// Scaled is a grid over the same items, all of whose boxes were scaled by k. It shares the
// lists of c.
func (c *Cells) Scaled(k float64) Cells {
	out := *c
	out.Size, out.Lo, out.per = k*c.Size, c.Lo.Times(k), c.per/k
	return out
}
