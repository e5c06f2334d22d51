package report_test

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"strconv"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stopcard/stopcard/analyse/internal/schema"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

// The schema file is what the types and their comments say.
func TestSchemaIsOfTypes(t *testing.T) {
	schema.Hold[report.Document](t, "report.schema.json", report.Schema, "Stopcard report", ".")
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
	holds := compileSchema(t)
	valid := func(name string, doc any) error {
		text, err := json.Marshal(doc)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		return holds.Validate(value)
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
