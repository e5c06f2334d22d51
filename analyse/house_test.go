package analyse

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// rooms are the packages under analyse, each of which imports only those before it.
// Those in one group are side by side. The face stands above the rules.
var rooms = [][]string{
	{"geom"}, {"internal/watch", "internal/packed"}, {"report"}, {"internal/schema", "words"}, {"spools"}, {"stitches"}, {"satin"}, {"applique"}, {"measure"}, {"rules", "notes"}, {""}, {"analysetest"}, {"resize", "match", "gather"},
}

func rank(room string) int {
	return slices.IndexFunc(rooms, func(side []string) bool { return slices.Contains(side, room) })
}

// eachFile calls f for every file of Go under analyse, with the room it is in.
func eachFile(t *testing.T, f func(path, room string, text []byte, file *ast.File)) {
	t.Helper()
	err := filepath.WalkDir(".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, text, parser.ParseComments)
		if err != nil {
			return err
		}
		room := filepath.ToSlash(filepath.Dir(path))
		if room == "." {
			room = ""
		}
		f(filepath.ToSlash(path), room, text, file)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Imports run downwards inside analyse.
func TestImportsRunDownwards(t *testing.T) {
	const module = "github.com/stopcard/stopcard/analyse"
	eachFile(t, func(path, room string, _ []byte, file *ast.File) {
		if strings.HasSuffix(path, "_test.go") || room == "internal/truth" {
			return
		}
		own := rank(room)
		if own < 0 {
			t.Errorf("%s: no rank is known for the room %q", path, room)
		}
		for _, i := range file.Imports {
			name, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			other, ok := strings.CutPrefix(name, module)
			if !ok {
				continue
			}
			other = strings.TrimPrefix(other, "/")
			if r := rank(other); r < 0 || r >= own && other != room {
				t.Errorf("%s imports %s, which is not below it", path, name)
			}
		}
	})
}

// A file holds one idea.
func TestFilesAreShort(t *testing.T) {
	const most = 400
	eachFile(t, func(path, _ string, text []byte, _ *ast.File) {
		if n := bytes.Count(text, []byte("\n")); n > most {
			t.Errorf("%s has %d lines, more than %d", path, n, most)
		}
	})
}

// Each exported name has a comment.
func TestExportedNamesAreDocumented(t *testing.T) {
	eachFile(t, func(path, _ string, _ []byte, file *ast.File) {
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		for _, d := range file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Name.IsExported() && d.Doc == nil && (d.Recv == nil || exportedReceiver(d)) {
					t.Errorf("%s: %s has no comment", path, d.Name)
				}
			case *ast.GenDecl:
				for _, s := range d.Specs {
					var names []*ast.Ident
					var doc, line *ast.CommentGroup
					switch s := s.(type) {
					case *ast.TypeSpec:
						names, doc, line = []*ast.Ident{s.Name}, s.Doc, s.Comment
					case *ast.ValueSpec:
						names, doc, line = s.Names, s.Doc, s.Comment
					}
					for _, n := range names {
						if n.IsExported() && d.Doc == nil && doc == nil && line == nil {
							t.Errorf("%s: %s has no comment", path, n)
						}
					}
				}
			}
		}
	})
}

func exportedReceiver(d *ast.FuncDecl) bool {
	t := d.Recv.List[0].Type
	if p, ok := t.(*ast.StarExpr); ok {
		t = p.X
	}
	id, ok := t.(*ast.Ident)
	return ok && id.IsExported()
}
