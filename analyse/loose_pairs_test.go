package analyse

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// looseTold is all that is said of loose threads in a file.
func looseTold(t *testing.T, name string, data []byte) (said []string) {
	t.Helper()
	d, err := (&stitchfile.Decoder{Name: name}).DecodeBytes(data)
	if err != nil {
		t.Fatal(name, ": ", err)
	}
	for _, f := range mustRun(d, report.DefaultSettings()).Findings {
		if f.Rule == "untrimmed-jump" {
			said = append(said, string(f.Severity)+": "+f.Message)
		}
	}
	return said
}

// DST, which has no record for a cut, and EXP, which has one, tell the same loose threads
// of the same stitches: real ones, and planted ones of any length.
func TestLooseThreadsAlikeInDSTAndEXP(t *testing.T) {
	const folder = "../../shared/designs"
	pairs, _ := filepath.Glob(filepath.Join(folder, "*", "*.exp"))
	for _, exp := range pairs {
		dst := strings.TrimSuffix(exp, ".exp") + ".dst"
		inDST, err := os.ReadFile(dst)
		if err != nil {
			continue
		}
		inEXP, err := os.ReadFile(exp)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(looseTold(t, exp, inEXP), looseTold(t, dst, inDST)); d != "" {
			t.Errorf("%s and its DST:\n%s", exp, d)
		}
	}
	part := func(b *st.Builder, x float64) {
		b.Run(st.Line(st.Point{X: x}, st.Point{X: x + 20, Y: 3}), 2.5)
	}
	for _, way := range []float64{5, 13, 24, 30, 37, 48, 110} {
		for _, cut := range []bool{false, true} {
			b := new(st.Builder)
			part(b, 0)
			if cut {
				part(b.Trim(), 40) // so that the file shows how it writes a cut
				b.Trim()
			} else {
				b.StitchTo(st.Point{X: 20 + way, Y: 3}) // one long move, as a record cannot hold
			}
			part(b, 20+way)
			inDST, err := st.Encode("DST", b.Design())
			if err != nil {
				t.Fatal(err)
			}
			inEXP, err := st.Encode("EXP", b.Design())
			if err != nil {
				t.Fatal(err)
			}
			ofDST, ofEXP := looseTold(t, "a.dst", inDST), looseTold(t, "a.exp", inEXP)
			if d := cmp.Diff(ofEXP, ofDST); d != "" {
				t.Errorf("%v mm, cut: %v:\n%s", way, cut, d)
			}
			if told := len(ofDST) == 1 && strings.HasPrefix(ofDST[0], "warning"); told != (!cut && way > 12.7) {
				t.Errorf("%v mm, cut: %v: %q", way, cut, ofDST)
			}
		}
	}
}

// Where the file does not show whether its long ways are cut, they are told as a note,
// with their places. In DST so many jumps are the custom for a cut; EXP has a record for one,
// and where that is missing the thread stays, so there they are a warning.
func TestLooseThreadsThatDependOnTheMachine(t *testing.T) {
	for way, want := range map[float64]string{3: "", 20: "warning", 30: "note", 60: "note", 110: "note"} {
		b := new(st.Builder).Run(st.Line(st.Point{}, st.Point{X: 20}), 2.5)
		b.JumpTo(st.Point{X: 20 + way}).Run(st.Line(st.Point{X: 20 + way}, st.Point{X: 40 + way}), 2.5)
		data, err := st.Encode("DST", b.Design())
		if err != nil {
			t.Fatal(err)
		}
		said := looseTold(t, "a.dst", data)
		inEXP, err := st.Encode("EXP", b.Design())
		if err != nil {
			t.Fatal(err)
		}
		if of := looseTold(t, "a.exp", inEXP); (len(of) == 1 && strings.HasPrefix(of[0], "warning")) != (want != "") {
			t.Errorf("%v mm in EXP: %q", way, of)
		}
		if len(said) > 1 || (len(said) == 1) != (want != "") || want != "" && !strings.HasPrefix(said[0], want) {
			t.Errorf("%v mm: %q, want a %s", way, said, want)
		}
	}
}

// One is told as one.
func TestLooseThreadsAreCounted(t *testing.T) {
	for n, want := range map[int]string{
		1: "warning: 1 thread longer than 6 mm is left loose: 22.5 mm",
		2: "warning: 2 threads longer than 6 mm are left loose, the longest 22.5 mm, 45 mm (1 3/4 in) together",
	} {
		b := new(st.Builder).Run(st.Line(st.Point{}, st.Point{X: 20}), 2.5)
		for i := range n {
			x := 40 * float64(i+1)
			b.JumpTo(st.Point{X: x}).Run(st.Line(st.Point{X: x}, st.Point{X: x + 20}), 2.5)
		}
		data, err := st.Encode("EXP", b.Design())
		if err != nil {
			t.Fatal(err)
		}
		if said := looseTold(t, "a.exp", data); len(said) != 1 || said[0] != want {
			t.Errorf("%d: %q", n, said)
		}
	}
}
