package words

import (
	"slices"
	"strings"
)

// colourParts are the words that the SVG colour keywords are joined from,
// longest first, so that "lightsteelblue" is not read as "light steel b...".
var colourParts = func() []string {
	words := strings.Fields(`alice antique aqua aquamarine azure beige bisque black blanched almond blue blush violet brown
		burly wood cadet chartreuse chiffon chocolate coral cornflower cornsilk cream cream crimson cyan dark deep dew dim dodger
		drab fire brick floral forest fuchsia gainsboro ghost gold golden rod green grey gray honey hot indian indigo ivory
		khaki lace lavender lawn lemon light lime linen magenta marine maroon medium midnight mint misty moccasin navajo navy old
		olive orange orchid pale papaya peach peru pink plum powder puff purple rebecca red rose rosy royal saddle salmon sandy sea
		shell sienna silver sky slate smoke snow spring steel tan teal thistle tomato turquoise wheat whip white yellow`)
	slices.SortFunc(words, func(a, b string) int { return len(b) - len(a) })
	return slices.Compact(words)
}()

// ColourWords writes an SVG colour keyword as people do: "dark grey" for
// "darkgrey". What is no such keyword stays as it is.
func ColourWords(name string) string {
	if parts, ok := splitWords(name); ok {
		return strings.Join(parts, " ")
	}
	return name
}

func splitWords(s string) ([]string, bool) {
	if s == "" {
		return nil, true
	}
	for _, w := range colourParts {
		if rest, ok := strings.CutPrefix(s, w); ok {
			if tail, ok := splitWords(rest); ok {
				return append([]string{w}, tail...), true
			}
		}
	}
	return nil, false
}
