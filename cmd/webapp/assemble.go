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
	page := render.Assets()
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
// first: an eighth more than the bytes, where base64 takes a third. One that HTML would
// change is written together with the next as a character of two bytes, which is as long.
func sevenBits(data []byte) string {
	sevens := make([]byte, 0, len(data)*8/7+1)
	var held, bits uint
	for _, b := range data {
		held, bits = held<<8|uint(b), bits+8
		for bits >= 7 {
			bits -= 7
			sevens = append(sevens, byte(held>>bits&127))
		}
		held &= 1<<bits - 1
	}
	if bits > 0 {
		// The bits that are left over say nothing: not a NUL, which would want a next one.
		sevens = append(sevens, max(1, byte(held<<(7-bits)&127)))
	}
	var out strings.Builder
	for i := 0; i < len(sevens); i++ {
		var next byte
		if i+1 < len(sevens) {
			next = sevens[i+1]
		}
		if k := changed(sevens[i], next); k >= 0 {
			out.WriteRune(rune(firstPair + k<<7 + int(next)))
			i++
		} else {
			out.WriteByte(sevens[i])
		}
	}
	return out.String()
}

// firstPair is the first character of those that stand for two; the script of the page
// reads them by the same numbers.
const firstPair = 0x100

// changed tells which of the characters is in hand that a reader of HTML changes, or -1: NUL
// and CR, which it replaces, and a "<" that could begin the end of the element or a comment.
func changed(v, next byte) int {
	switch {
	case v == 0:
		return 0
	case v == '\r':
		return 1
	case v == '<' && (next == '/' || next == '!'):
		return 2
	}
	return -1
}

func integrity(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
