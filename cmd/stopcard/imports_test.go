package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// heavy are packages of Go whose use brings far more than is used of it: with those that
// call methods by name, every exported method of every type.
var heavy = map[string]string{
	"html/template": "pages are written by code that is made of their templates",
	"text/template": "it calls methods by name",
	"encoding/gob":  "it calls methods by name",
	"net/http":      "it brings a network stack",
	"regexp":        "it and its tables of letters are 0.2 MB; a few lines find what is looked for",
}

// Imports run cmd -> render -> analyse -> stitchfile and never back, in tests too; and programs import
// nothing that is heavy.
func TestImportsRunOneWay(t *testing.T) {
	const module = "github.com/stopcard/stopcard/"
	layers := []string{"stitchfile", "analyse", "render", "cmd"}
	files := 0
	for rank, layer := range layers {
		err := filepath.WalkDir(filepath.Join("..", "..", layer), func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || filepath.Ext(path) != ".go" {
				return err
			}
			files++
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
			if err != nil {
				return err
			}
			for _, i := range f.Imports {
				name, err := strconv.Unquote(i.Path.Value)
				if err != nil {
					return err
				}
				if why := heavy[name]; why != "" && !strings.HasSuffix(path, "_test.go") {
					t.Errorf("%s imports %s: %s", filepath.ToSlash(path), name, why)
				}
				for _, above := range layers[rank+1:] {
					if name == module+above || strings.HasPrefix(name, module+above+"/") {
						t.Errorf("%s imports %s", filepath.ToSlash(path), above)
					}
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if files < 100 {
		t.Errorf("only %d files were looked at", files)
	}
}
