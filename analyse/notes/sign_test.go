package notes

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/stitchfile"
)

func open(t *testing.T, path string) *stitchfile.Design {
	t.Helper()
	d, err := stitchfile.Open(path)
	if d == nil {
		t.Fatal(err)
	}
	return d
}

func demoFile(t *testing.T, name string) *stitchfile.Design {
	return open(t, filepath.Join("..", "..", "testdata", "demo", name))
}

// All formats of one size have one sign, as far as it is compared, and it comes
// back from its text.
func TestTRY(t *testing.T) {
	names, _ := filepath.Glob("../../testdata/demo/*.*")
	var signs []Sign
	for _, n := range names {
		if strings.HasSuffix(n, ".go") {
			continue
		}
		s := SignOf(open(t, n))
		signs = append(signs, s)
		fmt.Println(filepath.Base(n), len(s.Stops), len(s.String()))
		back, err := ParseSign(s.String())
		if err != nil || fmt.Sprint(back) != fmt.Sprint(s) {
			t.Error("back", err)
		}
		for j, o := range signs {
			f, st := o.Against(s, false)
			fmt.Print(j, ":", f, " ")
			if f == OtherSize {
				fmt.Print(st)
			}
		}
		fmt.Println()
	}
	real, _ := filepath.Glob("../../../shared/designs/*/*")
	var rs []Sign
	var rn []string
	for _, n := range real {
		d, _ := stitchfile.Open(n)
		if d == nil {
			continue
		}
		rs, rn = append(rs, SignOf(d)), append(rn, filepath.Base(n))
	}
	for i := range rs {
		for j := range rs[:i] {
			if f, st := rs[i].Against(rs[j], false); f != NoFit {
				fmt.Println(rn[i], rn[j], f, st)
			}
		}
	}
	_ = os.Stdout
}
