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

// Count is n with a word that takes an s, or es after ch: "3 stitches".
func Count(n int, one string) string {
	if strings.HasSuffix(one, "ch") {
		return Plural(n, one, one+"es")
	}
	return Plural(n, one, one+"s")
}

// leastRun is how many stops in a row, or every second one, are told as a run.
const leastRun = 4

// runOf tells stops that follow one another evenly: "3 to 9", "3 to 47, odd".
func runOf(stops []int) (string, bool) {
	n := len(stops)
	if n < leastRun {
		return "", false
	}
	step := stops[1] - stops[0]
	for i := 2; i < n; i++ {
		if stops[i]-stops[i-1] != step {
			return "", false
		}
	}
	text := fmt.Sprintf("%d to %d", stops[0], stops[n-1])
	switch {
	case step == 1:
		return text, true
	case step == 2 && stops[0]%2 == 0:
		return text + ", even", true
	case step == 2:
		return text + ", odd", true
	}
	return "", false
}

// ListStops names stops, which are in order: "stop 3", "stops 3, 4 and 8", "stops 3 to
// 9", "stops 3 to 47, odd".
func ListStops(stops []int) string {
	if len(stops) == 0 {
		return "no stop"
	}
	if len(stops) == 1 {
		return fmt.Sprintf("stop %d", stops[0])
	}
	return "stops " + ListNumbers(stops)
}

// ListNumbers tells rising numbers: "3", "3, 4 and 8", "3 to 9", "3 to 47, odd".
func ListNumbers(numbers []int) string {
	if run, ok := runOf(numbers); ok {
		return run
	}
	names := make([]string, len(numbers))
	for i, n := range numbers {
		names[i] = fmt.Sprint(n)
	}
	return List(names)
}

// Pieces names pieces, in order, with the verb for so many: "piece 1 is", "pieces 1, 2
// and 3 are", "pieces 1 to 9 are".
func Pieces(numbers []int, one, many string) string {
	if len(numbers) == 1 {
		return fmt.Sprintf("piece %d %s", numbers[0], one)
	}
	return "pieces " + ListNumbers(numbers) + " " + many
}

// List joins names: "a", "a and b", "a, b and c".
func List(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}
