package settingsfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Keys are told with their lines, however they are written.
func TestKeysOf(t *testing.T) {
	text := "# one\nspeed = 7\nhoops.a = \"1x1\"\nthread-box = \"\"\"x\ny\"\"\"\n\n[limits]\n# c\nx = 1\n\"y z\" = [\n 1,\n 2]\n[[thread]]\nname = 1\nleft.x = 2\n[[thread]]\nname = 2\n" +
		"[thread.more]\nk = 1\n[odd.table]\nz = 1\n[hoops]\nq = 1 # end"
	var got []string
	for _, k := range keysOf([]byte(text), "limits", "hoops") {
		got = append(got, fmt.Sprintf("%d %s", k.line, strings.Join(k.key, "/")))
	}
	want := []string{"2 speed", "3 hoops/a", "4 thread-box", "9 limits/x", "10 limits/y z", "13 thread", "16 thread", "20 odd/table", "23 hoops/q"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if got := keysOf([]byte("hoops = {a = 1, b = 2}\nthread = [{name = 1}, {name = 2}]"), "hoops"); len(got) != 4 || got[1].key[1] != "b" || got[3].key[0] != "thread" {
		t.Errorf("on one line: %v", got)
	}
}

// Too many are refused before they take time, and not one too early.
func TestTooMany(t *testing.T) {
	for text, want := range map[string]bool{
		"[hoops]\n" + many("h%d = \"1x1\"\n", mostKeys): false, "[hoops]\n" + many("h%d = \"1x1\"\n", mostKeys+1): true, many("k%d = 1\n", 16000): true,
		many("[t%d]\n", mostKeys): false, many("[t%d]\n", mostKeys+1): true, many("[[thread]]\nname = \"%d\"\ncolour = \"red\"\nleft = 1\n", 5000): false, "a = = 1": false,
	} {
		if got := tooMany([]byte(text)); got != want {
			t.Errorf("%.20q of %d bytes: %t", text, len(text), got)
		}
	}
	if err := New().Read("x", []byte(many("h%d = 1\n", 16000)), nil); err == nil || !strings.Contains(err.Error(), "too many") {
		t.Error(err)
	}
}

func many(format string, n int) string {
	var out strings.Builder
	for i := range n {
		fmt.Fprintf(&out, format, i)
	}
	return out.String()
}

// The work of a settings file grows as the file does.
func BenchmarkManyHoops(b *testing.B) {
	for _, n := range []int{1000, 2000, 4000, 8000} {
		var text strings.Builder
		text.WriteString("[hoops]\n")
		for i := range n {
			fmt.Fprintf(&text, "h%d = \"100x100\"\n", i)
		}
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if err := New().Read("x", []byte(text.String()), nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
