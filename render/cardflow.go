package render

import "image"

// block is a part of a card that does not break across columns.
type block struct {
	height int
	row    bool // begins the row of a colour stop
	keep   bool // stays with the block after it
	loose  bool // left out at the top of a column
	draw   func(page *image.RGBA, x, y int)
}

// flow fills columns with blocks; room is the height of a column. There is at
// least one column.
func flow(blocks []block, room func(column int) int) [][]block {
	columns := [][]block{nil}
	used := 0
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
	return keepCompany(columns, room)
}

// keepCompany sees that the last column does not hold a single row: it takes one
// over from a column that can spare it.
func keepCompany(columns [][]block, room func(column int) int) [][]block {
	n := len(columns) - 1
	if n == 0 || rows(columns[n]) != 1 || rows(columns[n-1]) < 3 {
		return columns
	}
	from := columns[n-1]
	cut := len(from) - 1
	for cut > 0 && !from[cut].row {
		cut--
	}
	for cut > 0 && from[cut-1].keep {
		cut--
	}
	moved := append(append([]block{}, from[cut:]...), columns[n]...)
	if height(moved) <= room(n) {
		columns[n-1], columns[n] = from[:cut], moved
	}
	return columns
}

func rows(column []block) (n int) {
	for _, b := range column {
		if b.row {
			n++
		}
	}
	return n
}

func height(column []block) (h int) {
	for _, b := range column {
		h += b.height
	}
	return h
}
