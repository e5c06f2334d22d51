package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// What the command prints keeps to the schema that it prints.
func TestPrintedSchema(t *testing.T) {
	_, text, _ := try(t, "", "schema")
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("urn:printed", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("urn:printed")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	files := []string{write(t, dir, "a.dst", small(t, true)), write(t, dir, "b.dst", small(t, true)[:580]), write(t, dir, "c.dst", nil)}
	for _, form := range []string{"--json", "--lines"} {
		_, out, stderr := try(t, "", slices.Concat([]string{"check", form, "--hoop", "5x5", "--limit", "long-stitch=3"}, files)...)
		if form == "--json" {
			out = strings.ReplaceAll(out, "\n", " ")
		}
		for line := range strings.Lines(out) {
			value, err := jsonschema.UnmarshalJSON(strings.NewReader(line))
			if err == nil {
				err = schema.Validate(value)
			}
			if err != nil {
				t.Errorf("%s: %v", form, err)
			}
		}
		if !strings.Contains(out, "outside-hoop") || !strings.Contains(stderr, "c.dst") {
			t.Errorf("%s: the check is of too little: %.300s", form, out)
		}
	}
}
