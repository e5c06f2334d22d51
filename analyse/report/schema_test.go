package report_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

var update = flag.Bool("update", false, "write report.schema.json anew from the types")

// schemaMaker makes a JSON Schema of Go types and their comments.
type schemaMaker struct {
	defs     map[string]any
	comments map[string]string // by Type or Type.Field
}

func newSchemaMaker(t *testing.T) *schemaMaker {
	m := &schemaMaker{map[string]any{}, map[string]string{}}
	set := token.NewFileSet()
	names, err := fs.Glob(os.DirFS("."), "*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		file, err := parser.ParseFile(set, name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			decl, ok := n.(*ast.GenDecl)
			if !ok || decl.Tok != token.TYPE {
				return true
			}
			for _, spec := range decl.Specs {
				spec := spec.(*ast.TypeSpec)
				m.comments[spec.Name.Name] = flat(decl.Doc)
				s, ok := spec.Type.(*ast.StructType)
				if !ok {
					continue
				}
				for _, f := range s.Fields.List {
					for _, id := range f.Names {
						m.comments[spec.Name.Name+"."+id.Name] = strings.TrimSpace(flat(f.Doc) + " " + flat(f.Comment))
					}
				}
			}
			return true
		})
	}
	return m
}

func flat(g *ast.CommentGroup) string {
	if g == nil {
		return ""
	}
	return strings.Join(strings.Fields(g.Text()), " ")
}

// of gives the schema of a type; structs become definitions.
func (m *schemaMaker) of(t reflect.Type) map[string]any {
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
		if _, ok := m.defs[t.Name()]; !ok {
			m.defs[t.Name()] = nil // being made
			m.defs[t.Name()] = m.object(t)
		}
		return map[string]any{"$ref": "#/$defs/" + t.Name()}
	}
	panic("no schema for " + t.String())
}

// enum gives the schema of one of several words.
func enum[T any](values []T) map[string]any {
	var words []any
	for _, v := range values {
		words = append(words, fmt.Sprint(v))
	}
	return map[string]any{"enum": words}
}

func (m *schemaMaker) object(t reflect.Type) map[string]any {
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
		if c := m.comments[t.Name()+"."+f.Name]; c != "" {
			p["description"] = c
		}
		if name == "whole" {
			delete(p, "type")
			p["enum"] = []any{"", stitchfile.Whole, stitchfile.NotWhole, stitchfile.CannotTell}
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
	return map[string]any{"type": "object", "description": m.comments[t.Name()], "properties": properties, "required": required}
}

// The schema file is what the types and their comments say.
func TestSchemaIsOfTypes(t *testing.T) {
	m := newSchemaMaker(t)
	top := m.object(reflect.TypeFor[report.Document]())
	top["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	top["$id"] = "urn:" + strings.ReplaceAll(report.Schema, "/", ":")
	top["title"] = "Stopcard report"
	top["properties"].(map[string]any)["schema"] = map[string]any{"const": report.Schema}
	top["$defs"] = m.defs
	m.defs["Stop"].(map[string]any)["properties"].(map[string]any)["colour"].(map[string]any)["pattern"] = "^#[0-9a-f]{6}$"
	var want bytes.Buffer
	e := json.NewEncoder(&want)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(top); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("report.schema.json", want.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(want.String(), string(report.JSONSchema())); diff != "" {
		t.Errorf("report.schema.json is not of these types; go test ./analyse/report -run TestSchemaIsOfTypes -update writes it anew:\n%s", diff)
	}
}

func compileSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(report.JSONSchema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("urn:report", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("urn:report")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Real reports keep to the schema, as a validator of others sees it; those of
// empty and of broken designs too.
func TestSchemaHolds(t *testing.T) {
	schema := compileSchema(t)
	valid := func(name string, doc any) error {
		text, err := json.Marshal(doc)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		return schema.Validate(value)
	}
	s := report.DefaultSettings()
	s.HoopWidthMM, s.HoopHeightMM, s.Limits = 100, 100, map[string]float64{"thin-cover": 0.99, "long-stitch": 3}
	document := func(r ...*report.Report) report.Document {
		return report.Document{Schema: report.Schema, Settings: s, Designs: r, Unreadable: []report.Unreadable{{Path: "x", Error: "gone"}}, Complete: true}
	}
	if err := valid("empty design", document(mustRun(&stitchfile.Design{}, s))); err != nil {
		t.Error(err)
	}
	findings := 0
	for _, name := range []string{demo.Shown, demo.Faulty, "kettle-100.jef"} {
		data, err := demo.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, part := range [][]byte{data, data[:len(data)/2]} {
			d, err := stitchfile.Decode(bytes.NewReader(part))
			if d == nil {
				t.Fatal(err)
			}
			r := mustRun(d, s)
			findings += len(r.Findings)
			if err := valid(name, document(r)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
	if findings < 10 {
		t.Errorf("only %d findings were seen", findings)
	}

	for name, spoil := range map[string]func(*report.Document){
		"other schema": func(d *report.Document) { d.Schema = "stopcard/report/2" },
		"role":         func(d *report.Document) { d.Designs[0].Stops = []report.Stop{{Role: "juggling"}} },
		"severity":     func(d *report.Document) { d.Designs[0].Findings = []report.Finding{{Severity: "doom"}} },
		"colour":       func(d *report.Document) { red := "red"; d.Designs[0].Stops = []report.Stop{{Colour: &red}} },
		"null list":    func(d *report.Document) { d.Designs[0].Stops = nil },
	} {
		doc := document(mustRun(&stitchfile.Design{}, s))
		spoil(&doc)
		if valid(name, doc) == nil {
			t.Errorf("%s: passed", name)
		}
	}
}

// Every role that there is a name for is listed.
func TestRolesAreListed(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "roles.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, r := range report.Roles() {
		listed[r] = true
	}
	n := 0
	ast.Inspect(file, func(node ast.Node) bool {
		if v, ok := node.(*ast.ValueSpec); ok {
			name, err := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
			if err != nil || !listed[name] {
				t.Errorf("%s is not listed", v.Names[0])
			}
			n++
		}
		return true
	})
	if n != len(listed) {
		t.Errorf("%d names, %d listed", n, len(listed))
	}
}
