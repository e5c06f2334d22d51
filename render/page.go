package render

import (
	"context"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	htmltemplate "html/template"
	"io"
	"strings"
	"sync"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

//go:embed page/page.html page/page.css page/page.js
var pageFiles embed.FS

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
	parts, err := pageParts()
	if err != nil {
		return err
	}
	m, err := newPageModel(items, o)
	if err != nil {
		return err
	}
	if o.Origin != "" && strings.IndexFunc(o.Origin, func(r rune) bool { return !('0' <= r && r <= '9' || 'a' <= r && r <= 'z') }) < 0 {
		m.Mark = htmltemplate.HTML(PageMark(o.Origin))
	}
	m.CSS, m.JS, m.Policy = parts.css, parts.js, parts.policy
	return parts.html.Execute(w, m)
}

// pageAssets are the fixed parts of every page.
type pageAssets struct {
	html   *htmltemplate.Template
	css    htmltemplate.CSS
	js     htmltemplate.JS
	policy string
}

var pageParts = sync.OnceValues(func() (*pageAssets, error) {
	css, err := pageFiles.ReadFile("page/page.css")
	if err != nil {
		return nil, err
	}
	js, err := pageFiles.ReadFile("page/page.js")
	if err != nil {
		return nil, err
	}
	html, err := htmltemplate.ParseFS(pageFiles, "page/page.html")
	if err != nil {
		return nil, err
	}
	return &pageAssets{
		html: html,
		css:  htmltemplate.CSS(css),
		js:   htmltemplate.JS(js),
		// Only the one style and the one script below may act, and only
		// pictures inside the page be shown (Content Security Policy 3, W3C).
		policy: "default-src 'none'; img-src data:; style-src '" + integrity(css) + "'; script-src '" + integrity(js) + "'; base-uri 'none'; form-action 'none'",
	}, nil
})

func integrity(b []byte) string {
	sum := sha256.Sum256(b)
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
