package schema

import (
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"github.com/stopcard/stopcard/analyse/internal/packed"
)

var update = flag.Bool("update", false, "write the schema files anew from the types")

// Hold fails where the schema file in the test's folder is not what the types of a
// document and their comments say, or the packed one beside it, which the program carries,
// is not that file. With -update it writes both. See Of for the rest.
func Hold[Document any](t *testing.T, file, name, title string, dirs ...string) {
	t.Helper()
	want, err := Of[Document](name, title, dirs...)
	if err != nil {
		t.Fatal(err)
	}
	small := strings.TrimSuffix(file, ".json") + ".deflate"
	if *update {
		deflated, err := packed.Pack(want)
		if err != nil {
			t.Fatal(err)
		}
		for file, text := range map[string][]byte{file: want, small: deflated} {
			if err := os.WriteFile(file, text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		return
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	const anew = "go test . -run Schema -update in its folder writes it anew"
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s is not of these types; %s:\n%s", file, anew, diff)
	}
	deflated, err := os.ReadFile(small)
	if err != nil {
		t.Fatal(err)
	}
	if string(packed.Text(deflated)) != string(got) {
		t.Errorf("%s is not %s; %s", small, file, anew)
	}
}
