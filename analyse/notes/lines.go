package notes

import (
	"bytes"

	"github.com/pelletier/go-toml/v2/unstable"
)

// mostKeys bounds the keys of one table, and the tables: notes on a design of the most
// stops that a sign holds have some hundred. The decoder compares each with those before.
const mostKeys = 10_000

// placed is a head of a table, or a key in one, and where it stands.
type placed struct {
	key  []string // from the top
	line int
	of   int // the number of its table among those of one name, from 0
}

// placesOf lists the heads and the keys of text that has been found to be sound, or is
// false where there are too many. One pass tells the lines of all, so that the work does
// not grow with the square of their number.
func placesOf(text []byte) (out []placed, ok bool) {
	var p unstable.Parser
	p.Reset(text)
	line, counted := 1, 0
	pathOf := func(before []string, n *unstable.Node) []string {
		key := append([]string{}, before...)
		for it := n.Key(); it.Next(); {
			key = append(key, string(it.Node().Data))
			if at := min(int(it.Node().Raw.Offset), len(text)); at > counted {
				line += bytes.Count(text[counted:at], []byte("\n"))
				counted = at
			}
		}
		return key
	}
	var within []string
	of := map[string]int{} // tables of a name so far, less one
	tables, keys := 0, 0
	for p.NextExpression() {
		switch n := p.Expression(); n.Kind {
		case unstable.Table, unstable.ArrayTable:
			within = pathOf(nil, n)
			if tables++; len(within) == 1 {
				if _, known := of[within[0]]; known {
					of[within[0]]++
				} else {
					of[within[0]] = 0
				}
			}
			out, keys = append(out, placed{within, line, of[within[0]]}), 0
		case unstable.KeyValue:
			key := pathOf(within, n)
			out = append(out, placed{key, line, of[key[0]]})
			keys++
		}
		if max(keys, tables) > mostKeys {
			return nil, false
		}
	}
	return out, true
}
