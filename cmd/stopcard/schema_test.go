package main

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// schemaOf compiles what the command prints as the schema of a verb.
func schemaOf(t *testing.T, verb ...string) *jsonschema.Schema {
	t.Helper()
	_, text, stderr := try(t, "", append([]string{"schema"}, verb...)...)
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err, stderr)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("urn:printed", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("urn:printed")
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

// What every verb prints as JSON keeps to the schema that is printed for it, of sound
// designs and damaged ones, of packs, and of nothing; and not to that of another.
func TestPrintedSchemas(t *testing.T) {
	wholeOnly(t)
	dir := t.TempDir()
	files := []string{write(t, dir, "a.dst", small(t, true)), write(t, dir, "b.dst", small(t, true)[:580]), write(t, dir, "c.dst", nil)}
	demo := filepath.Join(t.TempDir(), "demo")
	if status, _, stderr := try(t, "", "demo", "--output", demo); status != exitOK {
		t.Fatal(stderr)
	}
	printed := map[string]string{}
	for _, v := range verbs() {
		flags, _ := v.flagSet()
		if flags.Lookup("json") == nil {
			continue
		}
		schema := schemaOf(t, v.name)
		forms := []string{"--json"}
		if flags.Lookup("lines") != nil {
			forms = append(forms, "--lines")
		}
		for _, form := range forms {
			for name, args := range map[string][]string{
				"three": append([]string{"--hoop", "5x5", "--limit", "long-stitch=3"}, files...), "empty": files[2:], "demo": {demo},
			} {
				if v.name == "resize" && name == "demo" {
					args = append([]string{"--to", "5in"}, args...)
				}
				if v.name == "gather" && name == "demo" {
					args = append([]string{"--join", "2x2", "--blocks", "8"}, args...)
				}
				_, out, stderr := try(t, "", slices.Concat([]string{v.name, form}, args)...)
				if out == "" {
					t.Errorf("%s %s, %s: nothing printed: %s", v.name, form, name, stderr)
				}
				printed[v.name] = out
				if form == "--json" {
					out = strings.ReplaceAll(out, "\n", " ")
				}
				for line := range strings.Lines(out) {
					value, err := jsonschema.UnmarshalJSON(strings.NewReader(line))
					if err == nil {
						err = schema.Validate(value)
					}
					if err != nil {
						t.Errorf("%s %s, %s: %v", v.name, form, name, err)
					}
				}
			}
		}
	}
	if len(printed) != len(schemas) {
		t.Errorf("%d verbs print JSON, %d have a schema", len(printed), len(schemas))
	}
	for _, wrong := range [][2]string{{"match", "check"}, {"check", "gather"}, {"proof", "match"}, {"gather", "proof"}} {
		value, err := jsonschema.UnmarshalJSON(strings.NewReader(printed[wrong[0]]))
		if err != nil {
			continue // lines
		}
		if schemaOf(t, wrong[1]).Validate(value) == nil {
			t.Errorf("what %s prints passes for that of %s", wrong[0], wrong[1])
		}
	}
	_, one, _ := try(t, "", "schema")
	_, other, _ := try(t, "", "schema", "check")
	if one != other {
		t.Error("without a verb it is not the schema of check")
	}
	if status, _, stderr := try(t, "", "schema", "mach"); status != exitUsage || !strings.Contains(stderr, "match") {
		t.Errorf("status %d: %s", status, stderr)
	}
}
