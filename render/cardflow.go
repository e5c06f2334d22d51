package render

// block is a part of a sheet that does not break across columns.
type block struct {
	height float64 // mm
	keep   bool    // stays with the block after it
	loose  bool    // left out at the top of a column
	draw   func(cv canvas, x, y float64)
}

// flow fills columns with blocks; room is the height of a column. There is at
// least one column.
func flow(blocks []block, room func(column int) float64) [][]block {
	columns := [][]block{nil}
	used := 0.0
	next := func() { columns, used = append(columns, nil), 0 }
	for i := 0; i < len(blocks); {
		last, height := i, blocks[i].height
		for blocks[last].keep && last+1 < len(blocks) {
			last++
			height += blocks[last].height
		}
		n := len(columns) - 1
		if used+height > room(n) && (used > 0 || room(n) < room(n+1)) {
			next()
		}
		for ; i <= last; i++ {
			// Blocks kept together that are more than a column must part after all.
			if n := len(columns) - 1; used > 0 && used+blocks[i].height > room(n) {
				next()
			}
			if blocks[i].loose && used == 0 {
				continue
			}
			n := len(columns) - 1
			columns[n] = append(columns[n], blocks[i])
			used += blocks[i].height
		}
	}
	return columns
}

// evenly is flow over as few sheets of so many columns as it takes, with all
// columns about as full: no sheet carries a row or two left over.
func evenly(blocks []block, perSheet int, room func(column int) float64) [][]block {
	out := flow(blocks, room)
	most := (len(out) + perSheet - 1) / perSheet * perSheet
	if even := spread(blocks, most, room); fits(even, room) {
		return even
	}
	// Columns filled to a common share of their room, the least that will do.
	lo, hi := 0.0, 1.0
	for range 20 {
		share := (lo + hi) / 2
		tried := flow(blocks, func(k int) float64 { return room(k) * share })
		if len(tried) <= most && fits(tried, room) {
			out, hi = tried, share
		} else {
			lo = share
		}
	}
	return out
}

// spread gives each of n columns its share of what is left when its turn comes.
func spread(blocks []block, n int, room func(column int) float64) [][]block {
	left, free := height(blocks), 0.0
	for k := range n {
		free += room(k)
	}
	columns := make([][]block, 1, n)
	used := 0.0
	target := left / free * room(0)
	for i := 0; i < len(blocks); {
		last, h := i, blocks[i].height
		for blocks[last].keep && last+1 < len(blocks) {
			last++
			h += blocks[last].height
		}
		k := len(columns) - 1
		if used > 0 && used+h/2 > target && k+1 < n {
			left, free = left-used, free-room(k)
			columns, used = append(columns, nil), 0
			k++
			target = left / free * room(k)
		}
		for ; i <= last; i++ {
			if blocks[i].loose && used == 0 {
				left -= blocks[i].height
				continue
			}
			columns[k] = append(columns[k], blocks[i])
			used += blocks[i].height
		}
	}
	return columns
}

// fits reports whether no column holds more than there is room for, unless it is
// a single block that no column holds.
func fits(columns [][]block, room func(column int) float64) bool {
	for k, column := range columns {
		if len(column) > 1 && height(column) > room(k) {
			return false
		}
	}
	return true
}

func height(column []block) (h float64) {
	for _, b := range column {
		h += b.height
	}
	return h
}
