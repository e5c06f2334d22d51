package words

import (
	"fmt"
	"strings"
)

// TOMLWords is what a reader of TOML says of text that is none, without the words of its
// programming.
func TOMLWords(err error) string {
	text := strings.TrimPrefix(err.Error(), "toml: ")
	if strings.Contains(text, "64-bit") || strings.Contains(text, "strconv.") {
		return "this number is too large"
	}
	return text
}

// TOMLValue is a value as a file of TOML gives it, in the file's own spelling as far as
// one line shows it: lists and tables by their brackets alone.
func TOMLValue(v any) string {
	switch v.(type) {
	case []any:
		return "[...]"
	case map[string]any:
		return "{...}"
	}
	return fmt.Sprint(v)
}
