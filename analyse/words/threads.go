package words

import (
	"strconv"
	"strings"
	"unicode"
)

// AnyThread names the thread of stops whose colour only makes the machine wait.
const AnyThread = "any thread, wash-away or like the cloth"

// ThreadName is what a file calls a thread, without its maker's name, or nothing
// where it only repeats a number or a colour value.
func ThreadName(name, maker string) string {
	name = strings.TrimSpace(name)
	if maker = strings.TrimSpace(maker); maker != "" && len(name) > len(maker) && strings.EqualFold(name[:len(maker)], maker) {
		name = strings.TrimSpace(name[len(maker):])
	}
	if _, hex := ParseHex(name); hex || strings.IndexFunc(name, unicode.IsLetter) < 0 {
		return ""
	}
	return name
}

// ThreadNumber is the number that a file gives for a thread, where it means
// something on a spool: it has a digit, and is no colour value, no zero, and not
// just the place of the colour in the format's own list.
func ThreadNumber(number string, index int) string {
	number = strings.TrimSpace(number)
	if strings.HasPrefix(number, "#") || !strings.ContainsAny(number, "123456789") || number == strconv.Itoa(index) {
		return ""
	}
	return number
}
