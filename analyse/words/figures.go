package words

import "strings"

// KeepFigures ties each whole number to the fraction behind it, as in "3 1/8 in", and each
// figure to its per cent, by a space at which no line may break: "3" at the end of a line
// reads as 3 inches.
func KeepFigures(text string) string {
	if !strings.ContainsAny(text, "/%") {
		return text
	}
	b := []byte(text)
	digit := func(i int) bool { return i >= 0 && i < len(b) && b[i] >= '0' && b[i] <= '9' }
	var out strings.Builder
	for i := range b {
		if b[i] != ' ' || !digit(i-1) {
			out.WriteByte(b[i])
			continue
		}
		k := i + 1
		for digit(k) {
			k++
		}
		share := k == i+1 && k < len(b) && b[k] == '%'
		fraction := k > i+1 && k < len(b) && b[k] == '/' && digit(k+1)
		if share || fraction {
			out.WriteString("\u00a0")
		} else {
			out.WriteByte(' ')
		}
	}
	return out.String()
}
