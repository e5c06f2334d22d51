package truth

import (
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
	"github.com/stopcard/stopcard/testdata/demo"
)

// Demo reads one of the demo files.
func Demo(t testing.TB, name string) *stitchfile.Design {
	t.Helper()
	f, err := demo.Files.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d, err := stitchfile.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return d
}
