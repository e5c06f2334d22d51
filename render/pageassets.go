package render

import "github.com/stopcard/stopcard/stitchfile"

// ContentKey is short text that only designs of the same moves and threads share; a
// page keeps its ticks under it.
func ContentKey(d *stitchfile.Design) string { return contentKey(d) }

// PageAssets are the fixed parts of every page, for those who show pages inside a page
// of their own in the same look.
type PageAssets struct {
	Style      string // CSS
	StyleHash  string // of the style and of the script of a page, as a content policy
	ScriptHash string // names them
}

// Assets gives the fixed parts of a page.
func Assets() (PageAssets, error) {
	parts, err := pageParts()
	if err != nil {
		return PageAssets{}, err
	}
	return PageAssets{Style: string(parts.css), StyleHash: integrity([]byte(parts.css)), ScriptHash: integrity([]byte(parts.js))}, nil
}
