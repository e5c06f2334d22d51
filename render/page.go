package render

import (
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"io"
	"strings"
	"sync"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

//go:generate go test -tags pagestubs . -run TestPageWritersAreOfTemplates -update

//go:embed page/page.css
var pageCSS string

//go:embed page/page.js
var pageJS string

// PageItem is one design on a page. The report's Path names its file.
type PageItem struct {
	Design *stitchfile.Design
	Report *report.Report
	Load   Load // in place of Design
}

// PageOptions say what Page writes. The zero value is ready to use. The hoop, and
// what depends on other settings, comes from the reports.
type PageOptions struct {
	// Title heads a page of several designs, such as the name of their pack.
	Title string
	// Unreadable are files that were to be on the page and could not be read.
	Unreadable []report.Unreadable
	// Origin tells, in letters and digits, what the page is made from; see PageMark.
	Origin string
	// ResizeLater keeps a hidden place of the class "resizing" for ResizeWords that a
	// report does not tell yet, where a script may put them.
	ResizeLater bool
	// Context ends the work soon after it ends itself, with its error; nil never does.
	Context context.Context
}

// PageMark is what stands within the first PageMarkBytes of a page with this origin, and
// in no other file, so that a page can be known again.
func PageMark(origin string) string {
	return `<meta name="generator" content="Stopcard page ` + origin + `">`
}

// PageMarkBytes is how much of the beginning of a page holds its mark.
const PageMarkBytes = 1024

// Page writes the card as one HTML file that needs nothing beside it: figures,
// findings with their places, what to cut, and each colour stop with its picture
// and hand steps, to be ticked off at the machine or printed. Files that hold the
// same design in several formats share a section, and an index names them all.
//
// The page loads nothing, and its policy forbids it to. Text from files is
// escaped, and its control characters are shown as dots.
func Page(w io.Writer, items []PageItem, o PageOptions) error {
	m, err := newPageModel(items, o)
	if err != nil {
		return err
	}
	if o.Origin != "" && strings.IndexFunc(o.Origin, func(r rune) bool { return !('0' <= r && r <= '9' || 'a' <= r && r <= 'z') }) < 0 {
		m.Mark = rawHTML(PageMark(o.Origin))
	}
	m.CSS, m.JS, m.Policy = rawCSS(pageCSS), rawJS(pageJS), pagePolicy()
	return write(w, func(out markup) { out.page(m) })
}

// pagePolicy lets only the one style and the one script of a page act, and only pictures
// inside the page be shown (Content Security Policy 3, W3C).
var pagePolicy = sync.OnceValue(func() string {
	return "default-src 'none'; img-src data:; style-src '" + integrity(pageCSS) + "'; script-src '" + integrity(pageJS) + "'; base-uri 'none'; form-action 'none'"
})

func integrity(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
