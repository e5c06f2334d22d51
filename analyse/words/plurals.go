package words

import (
	"fmt"
	"strings"
)

// Plural is n with the right form of a word.
func Plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// ListStops names stops: "stop 3", "stops 3, 4 and 8".
func ListStops(stops []int) string {
	if len(stops) == 0 {
		return "no stop"
	}
	if len(stops) == 1 {
		return fmt.Sprintf("stop %d", stops[0])
	}
	var b strings.Builder
	b.WriteString("stops ")
	for i, s := range stops {
		switch {
		case i == len(stops)-1:
			b.WriteString(" and ")
		case i > 0:
			b.WriteString(", ")
		}
		fmt.Fprint(&b, s)
	}
	return b.String()
}

// List joins names: "a", "a and b", "a, b and c".
func List(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
