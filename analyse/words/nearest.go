package words

import (
	"fmt"
	"strings"
)

// DidYouMean suggests the one of names that text may have been meant for, as
// "; did you mean thread?", or nothing where none is near.
func DidYouMean(text string, names []string) string {
	const longest = 60 // letters; a name is far shorter
	best, least := "", 3
	if len(text) > longest {
		return ""
	}
	for _, n := range names {
		if d := edits(text, n); d < least && d < len(n) {
			best, least = n, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %s?", best)
}

// edits counts the letters to add, drop or change to make b of a.
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		last := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := last
			if a[i] != b[j] {
				change++
			}
			last = row[j+1]
			row[j+1] = min(change, row[j]+1, last+1)
		}
	}
	return row[len(b)]
}

// Or lists words to choose from: "role", "role or note", "role, thread or note".
func Or(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " or " + list[len(list)-1]
}
