// Package schema makes the JSON Schemas of the documents that are printed, from their
// types and the comments on them. Only tests use it: they hold the schema files that are
// kept beside the types to what it makes.
package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"reflect"
	"strings"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Of makes the schema (draft 2020-12) of a document, whose field "schema" holds the given
// name. The dirs are those of the sources that its types stand in, as seen from where the
// test runs.
func Of[Document any](name, title string, dirs ...string) ([]byte, error) {
	m := &maker{defs: map[string]any{}, types: map[string]reflect.Type{}, comments: map[string]string{}}
	for _, dir := range dirs {
		if err := m.read(dir); err != nil {
			return nil, err
		}
	}
	top := m.object(reflect.TypeFor[Document]())
	top["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	top["$id"] = "urn:" + strings.ReplaceAll(name, "/", ":")
	top["title"] = title
	top["properties"].(map[string]any)["schema"] = map[string]any{"const": name}
	if len(m.defs) > 0 {
		top["$defs"] = m.defs
	}
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(top)
	return out.Bytes(), err
}

// maker makes a JSON Schema of Go types and their comments.
type maker struct {
	defs     map[string]any
	types    map[string]reflect.Type // by definition
	comments map[string]string       // by package.Type or package.Type.Field
}

// read takes the comments of the sources in a folder.
func (m *maker) read(dir string) error {
	set := token.NewFileSet()
	names, err := fs.Glob(os.DirFS(dir), "*.go")
	if err != nil {
		return err
	}
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(set, filepath.Join(dir, name), nil, parser.ParseComments)
		if err != nil {
			return err
		}
		in := file.Name.Name + "."
		ast.Inspect(file, func(n ast.Node) bool {
			decl, ok := n.(*ast.GenDecl)
			if !ok || decl.Tok != token.TYPE {
				return true
			}
			for _, spec := range decl.Specs {
				spec := spec.(*ast.TypeSpec)
				doc := decl.Doc
				if spec.Doc != nil {
					doc = spec.Doc
				}
				m.comments[in+spec.Name.Name] = flat(doc)
				s, ok := spec.Type.(*ast.StructType)
				if !ok {
					continue
				}
				for _, f := range s.Fields.List {
					for _, id := range f.Names {
						m.comments[in+spec.Name.Name+"."+id.Name] = strings.TrimSpace(flat(f.Doc) + " " + flat(f.Comment))
					}
				}
			}
			return true
		})
	}
	return nil
}

func flat(g *ast.CommentGroup) string {
	if g == nil {
		return ""
	}
	return strings.Join(strings.Fields(g.Text()), " ")
}

// of gives the schema of a type; structs become definitions.
func (m *maker) of(t reflect.Type) map[string]any {
	switch {
	case t == reflect.TypeFor[report.Severity]():
		return map[string]any{"enum": []any{report.Note, report.Caution, report.Fault}}
	case t == reflect.TypeFor[report.StepKind]():
		return enum(report.StepKinds())
	case t == reflect.TypeFor[report.Material]():
		return enum(report.Materials())
	case t == reflect.TypeFor[report.LyingState]():
		return enum(report.LyingStates())
	case t == reflect.TypeFor[report.HoopSide]():
		return enum([]report.HoopSide{report.Face, report.Underside})
	case t == reflect.TypeFor[geom.Polyline](), t == reflect.TypeFor[report.KindRuns]():
		return map[string]any{"type": "string"}
	case t == reflect.TypeFor[stitchfile.Thread]():
		text := map[string]any{"type": "string"}
		whole := map[string]any{"type": "integer"}
		return map[string]any{"type": "object", "required": []any{"colour", "name", "catalogue", "maker", "index", "weight"}, "properties": map[string]any{
			"colour": map[string]any{"type": []any{"string", "null"}, "pattern": "^#[0-9a-f]{6}$"},
			"name":   text, "catalogue": text, "maker": text, "index": whole, "weight": whole}}
	case t == reflect.TypeFor[report.Kind]():
		var names []any
		for _, k := range report.Kinds() {
			names = append(names, k.String())
		}
		return map[string]any{"enum": names}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return map[string]any{"anyOf": []any{m.of(t.Elem()), map[string]any{"type": "null"}}}
	case reflect.Slice:
		if t.Elem().Kind() == reflect.Pointer { // a list has no holes
			return map[string]any{"type": "array", "items": m.of(t.Elem().Elem())}
		}
		return map[string]any{"type": "array", "items": m.of(t.Elem())}
	case reflect.Array:
		return map[string]any{"type": "array", "items": m.of(t.Elem()), "minItems": t.Len(), "maxItems": t.Len()}
	case reflect.Map:
		return map[string]any{"type": "object", "additionalProperties": m.of(t.Elem())}
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Int64:
		return map[string]any{"type": "integer", "minimum": 0}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Struct:
		return map[string]any{"$ref": "#/$defs/" + m.define(t)}
	}
	panic("no schema for " + t.String())
}

// define makes the definition of a struct, once, and names it. Of two types of one name
// the later has that of its package before it.
func (m *maker) define(t reflect.Type) string {
	name := t.Name()
	if other, ok := m.types[name]; ok && other != t {
		name = path.Base(t.PkgPath()) + "." + name
	}
	if m.types[name] == nil {
		m.types[name] = t // being made
		m.defs[name] = m.object(t)
	}
	return name
}

// enum gives the schema of one of several words.
func enum[T any](values []T) map[string]any {
	var words []any
	for _, v := range values {
		words = append(words, fmt.Sprint(v))
	}
	return map[string]any{"enum": words}
}

func (m *maker) object(t reflect.Type) map[string]any {
	commented := path.Base(t.PkgPath()) + "." + t.Name()
	properties, required := map[string]any{}, []any{}
	for f := range t.Fields() {
		tag := f.Tag.Get("json")
		name, options, _ := strings.Cut(tag, ",")
		if !f.IsExported() || tag == "-" {
			continue
		}
		if name == "" {
			panic("no JSON name: " + t.Name() + "." + f.Name)
		}
		p := m.of(f.Type)
		if c := m.comments[commented+"."+f.Name]; c != "" {
			p["description"] = c
		}
		if name == "whole" {
			delete(p, "type")
			p["enum"] = []any{"", stitchfile.Whole, stitchfile.NotWhole, stitchfile.CannotTell}
		}
		if name == "colour" && f.Type == reflect.TypeFor[*string]() {
			p["pattern"] = "^#[0-9a-f]{6}$"
		}
		if name == "role" {
			delete(p, "type")
			p["enum"] = report.Roles()
		}
		properties[name] = p
		if !strings.Contains(options, "omitempty") {
			required = append(required, name)
		}
	}
	return map[string]any{"type": "object", "description": m.comments[commented], "properties": properties, "required": required}
}
