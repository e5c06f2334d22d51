package render

import "github.com/stopcard/stopcard/stitchfile"

// ContentKey is short text that only designs of the same moves and threads share; a
// page keeps its ticks under it.
func ContentKey(d *stitchfile.Design) string { return contentKey(d) }

// PageAssets are the fixed parts of pages, for those who show pages inside a page of
// their own in the same look.
type PageAssets struct {
	Style  string   // CSS
	Styles []string // hashes of the styles of every page, as a content policy names them
	Script string   // hash of the script of a page
}

// Assets gives the fixed parts of pages.
func Assets() PageAssets {
	return PageAssets{
		Style:  pageCSS,
		Styles: []string{integrity(pageCSS), integrity(proofCSS)},
		Script: integrity(pageJS),
	}
}
