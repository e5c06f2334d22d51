package settingsfile

import (
	"bytes"

	"github.com/pelletier/go-toml/v2/unstable"
)

// keyAt is a key of the file, from the top, and the line it stands on.
type keyAt struct {
	key  []string
	line int
}

// mostKeys bounds the keys of one table, and the tables; a real file has some dozens. The
// decoder compares each with those before it.
const mostKeys = 10_000

// tooMany reports whether a file, sound or not, has more.
func tooMany(text []byte) bool {
	var p unstable.Parser
	p.Reset(text)
	keys, tables := 0, 0
	for p.NextExpression() {
		switch p.Expression().Kind {
		case unstable.Table, unstable.ArrayTable:
			tables, keys = tables+1, 0
		case unstable.KeyValue:
			keys++
		}
		if max(keys, tables) > mostKeys {
			return true
		}
	}
	return false
}

// keysOf lists the keys of a file that has been found to be sound: those in the given
// tables each, and other tables as a whole, one for each of a list. One pass tells the
// lines of all, so that the work does not grow with the square of their number.
func keysOf(text []byte, tables ...string) []keyAt {
	var out []keyAt
	var p unstable.Parser
	p.Reset(text)
	line, counted := 1, 0
	lineOf := func(n *unstable.Node) int {
		if at := min(int(n.Raw.Offset), len(text)); at > counted {
			line += bytes.Count(text[counted:at], []byte("\n"))
			counted = at
		}
		return line
	}
	within := map[string]bool{}
	for _, name := range tables {
		within[name] = true
	}
	var prefix []string
	skip, lists := false, map[string]bool{}
	var put func(before []string, n *unstable.Node)
	put = func(before []string, n *unstable.Node) {
		key, at := keyOf(before, n, lineOf)
		v := n.Value()
		if len(key) == 1 && within[key[0]] && v.Kind == unstable.InlineTable {
			for it := v.Children(); it.Next(); {
				put(key, it.Node())
			}
			return
		}
		times := 1
		if len(key) == 1 && v.Kind == unstable.Array {
			// A list of tables may be written on one line too.
			tables := 0
			for it := v.Children(); it.Next(); {
				if it.Node().Kind == unstable.InlineTable {
					tables++
				}
			}
			times = max(1, tables)
		}
		for range times {
			out = append(out, keyAt{key, at})
		}
	}
	for p.NextExpression() {
		switch n := p.Expression(); n.Kind {
		case unstable.Table, unstable.ArrayTable:
			key, at := keyOf(nil, n, lineOf)
			prefix, skip = key, !(len(key) == 1 && within[key[0]])
			lists[key[0]] = lists[key[0]] || n.Kind == unstable.ArrayTable
			if skip && (len(key) == 1 || !lists[key[0]]) { // not what is within one of a list
				out = append(out, keyAt{key, at})
			}
		case unstable.KeyValue:
			if !skip {
				put(prefix, n)
			}
		}
	}
	return out
}

func keyOf(before []string, n *unstable.Node, lineOf func(*unstable.Node) int) ([]string, int) {
	key, line := append([]string{}, before...), 0
	for it := n.Key(); it.Next(); {
		key = append(key, string(it.Node().Data))
		line = lineOf(it.Node())
	}
	return key, line
}
