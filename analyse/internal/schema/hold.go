package schema

import (
	"flag"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the schema files anew from the types")

// Hold fails where the schema file in the test's folder is not what the types of a
// document and their comments say. With -update it writes the file. See Of for the rest.
func Hold[Document any](t *testing.T, file, name, title string, dirs ...string) {
	t.Helper()
	want, err := Of[Document](name, title, dirs...)
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(file, want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s is not of these types; go test . -run Schema -update in its folder writes it anew:\n%s", file, diff)
	}
}
