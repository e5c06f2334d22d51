package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html"
	"strings"

	"github.com/stopcard/stopcard/render"
)

//go:embed shell
var shell embed.FS

// shellScripts are the parts of the page's script in their order; small.js comes first
// and wire.js, which begins, last.
var shellScripts = []string{"small.js", "engine.js", "reading.js", "design.js", "corrections.js", "settings.js", "questions.js", "wire.js"}

// assemble puts the page together: the engine packed, the worker's script, the shell
// and a policy that names the only scripts and styles that may act.
func assemble(wasm, glue []byte, licences string) ([]byte, error) {
	parts := map[string]string{}
	for _, name := range append([]string{"shell.html", "shell.css", "files.js", "worker.js"}, shellScripts...) {
		text, err := shell.ReadFile("shell/" + name)
		if err != nil {
			return nil, err
		}
		parts[name] = string(text)
	}
	page, err := render.Assets()
	if err != nil {
		return nil, err
	}
	packed, err := pack(wasm)
	if err != nil {
		return nil, err
	}
	style, script := page.Style+parts["shell.css"], "\"use strict\";\n(() => {\n"
	for _, name := range shellScripts {
		script += parts[name] + "\n"
	}
	script += "})();\n"
	worker := string(glue) + parts["files.js"] + parts["worker.js"]
	if strings.Contains(worker, "</script") || strings.Contains(script, "</script") {
		return nil, fmt.Errorf("a script would end its own element")
	}
	// Frames show pages that this page makes itself, under this same policy: hence
	// their style and script are named too. A worker's script is made of the text in
	// the page; connections are allowed to nowhere (Content Security Policy 3, W3C).
	policy := strings.Join([]string{
		"default-src 'none'", "connect-src 'none'", "img-src data: blob:", "worker-src blob:", "frame-src blob:",
		"style-src '" + strings.Join(append(page.Styles, integrity(style)), "' '") + "'",
		"script-src '" + integrity(script) + "' '" + page.Script + "' 'wasm-unsafe-eval'",
		"base-uri 'none'", "form-action 'none'",
	}, "; ")
	return []byte(strings.NewReplacer(
		"{{policy}}", policy, "{{style}}", style, "{{script}}", script,
		"{{worker}}", worker, "{{engine}}", packed, "{{licences}}", html.EscapeString(licences),
	).Replace(parts["shell.html"])), nil
}

// pack compresses the engine and writes it as text.
func pack(wasm []byte) (string, error) {
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return "", err
	}
	if _, err := w.Write(wasm); err != nil {
		return "", err
	}
	if err := w.Close(); err != nil {
		return "", err
	}
	return sevenBits(out.Bytes()), nil
}

// sevenBits writes bytes as characters that hold seven bits each, the first bit
// first: an eighth more than the bytes, where base64 takes a third. Characters that HTML
// would change stand for themselves as others; see standIns.
func sevenBits(data []byte) string {
	out := make([]rune, 0, len(data)*8/7+1)
	var held, bits uint
	put := func(v byte) {
		// A "<" begins something only before these.
		if last := len(out) - 1; last >= 0 && out[last] == '<' && (v == '/' || v == '!') {
			out[last] = standIns['<']
		}
		r, ok := standIns[v]
		if !ok || v == '<' {
			r = rune(v)
		}
		out = append(out, r)
	}
	for _, b := range data {
		held, bits = held<<8|uint(b), bits+8
		for bits >= 7 {
			bits -= 7
			put(byte(held >> bits & 127))
		}
		held &= 1<<bits - 1
	}
	if bits > 0 {
		put(byte(held << (7 - bits) & 127))
	}
	return string(out)
}

// standIns are for NUL and CR, which an HTML reader replaces, and for a "<" that could
// begin the end of the element or a comment in it.
var standIns = map[byte]rune{0: '\u00c0', '\r': '\u00c1', '<': '\u00c2'}

func integrity(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
