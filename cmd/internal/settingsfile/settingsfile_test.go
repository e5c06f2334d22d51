package settingsfile

import (
	"math"
	"reflect"
	"strings"
	"testing"
)

func FuzzSettingsFile(f *testing.F) {
	f.Add("speed = 3\n[limits]\nthin-cover = 0.8\n")
	f.Add("a.b.c = {d = [1, {e = 2}]}\n[[limits]]\n")
	f.Add("thread = [{name = \"a\", colour = {b = 1}}]\n'' = 1\n")
	f.Fuzz(func(t *testing.T, text string) {
		entries, err := parseSettings([]byte(text))
		for _, e := range entries {
			if err == nil && e.line < 1 {
				t.Errorf("%+v", e)
			}
		}
		// What is wrong is said with its line, and not in the words of a program.
		read := New().Read("own", []byte(text), nil)
		if err != nil && read == nil {
			t.Errorf("read in spite of %v", err)
		}
		if read != nil {
			for _, word := range []string{"map[", "interface", "64-bit", "float64", "toml:", "strconv", "<nil>"} {
				if strings.Contains(read.Error(), word) && !strings.Contains(text, word) {
					t.Errorf("%v", read)
				}
			}
		}
	})
}

func TestParseSize(t *testing.T) {
	for text, want := range map[string][2]float64{
		"130x180": {130, 180}, "130 x 180 mm": {130, 180}, "5x7in": {127, 177.8}, "5inx7in": {127, 177.8}, `5"x7"`: {127, 177.8},
		"13x18cm": {130, 180}, "8 1/2 x 11 in": {215.9, 279.4}, "10cm x 4in": {100, 101.6}, "130X180MM": {130, 180}, "130×180": {130, 180},
	} {
		w, h, err := ParseSize(text)
		if err != nil || math.Abs(w-want[0]) > 1e-9 || math.Abs(h-want[1]) > 1e-9 {
			t.Errorf("%q: %v x %v, %v; want %v", text, w, h, err, want)
		}
	}
	for _, text := range []string{"", "x", "5", "5x", "x7", "5x7x9", "0x7", "-5x7", "NaNxNaN", "infx7", "5x7 miles", "1/0x3", "9e9x9"} {
		if w, h, err := ParseSize(text); err == nil {
			t.Errorf("%q: %v x %v", text, w, h)
		}
	}
}

// Threads may stand in tables of their own or in one list, and none may be lost.
func TestThreadsInEveryForm(t *testing.T) {
	for text, want := range map[string]int{
		"[[thread]]\nname = \"a\"\ncolour = \"red\"\n[[thread]]\nname = \"b\"\ncolour = \"blue\"\n":     2,
		"thread = [{name = \"a\", colour = \"red\"}, {name = \"b\", colour = \"blue\"}]\nspeed = 700\n": 2,
		"thread = []\n": 0,
	} {
		in := New()
		if err := in.Read("a.toml", []byte(text), nil); err != nil || len(in.Threads) != want {
			t.Errorf("%q: %d threads, %v; want %d", text, len(in.Threads), err, want)
		}
	}
}

// What is written says the same when it is read.
func TestWriteReadsBack(t *testing.T) {
	const text = "hoop = \"mine\"\nspeed = 700\ntrim-jumps = 5\n[hoops]\nmine = \"5x7in\"\n[limits]\nthin-cover = 0.8\n[[thread]]\nname = \"pine\"\ncolour = \"dark teal\"\nweight = 40\nleft = 320\n"
	first := New()
	if err := first.Read("a.toml", []byte(text), nil); err != nil {
		t.Fatal(err)
	}
	if err := first.ResolveHoop(); err != nil {
		t.Fatal(err)
	}
	if s := first.Settings; s.SpeedPerMinute != 700 || math.Abs(s.HoopWidthMM-127) > 1e-9 || s.Limits["thin-cover"] != 0.8 || len(first.Threads) != 1 || first.TrimJumps != 5 {
		t.Errorf("%+v", first)
	}
	for name, write := range map[string]func(*strings.Builder){
		"all": func(out *strings.Builder) { first.Write(out, "") }, "given": func(out *strings.Builder) { first.WriteGiven(out) },
	} {
		var out strings.Builder
		write(&out)
		second := New()
		if err := second.Read("b.toml", []byte(out.String()), nil); err != nil {
			t.Fatalf("%s: %v in\n%s", name, err, out.String())
		}
		if err := second.ResolveHoop(); err != nil {
			t.Fatal(err)
		}
		for limit, v := range second.Settings.Limits {
			if first.Settings.Limit(limit) != v {
				t.Errorf("%s: %s is %v, was %v", name, limit, v, first.Settings.Limit(limit))
			}
		}
		if first.Hoop != second.Hoop || !reflect.DeepEqual(first.Hoops, second.Hoops) || !reflect.DeepEqual(first.Threads, second.Threads) ||
			first.Settings.SpeedPerMinute != second.Settings.SpeedPerMinute || first.TrimJumps != second.TrimJumps {
			t.Errorf("%s: %+v\nread back as\n%+v", name, first, second)
		}
		if name == "given" && len(second.Settings.Limits) != 1 {
			t.Errorf("limits nobody gave are written: %v", second.Settings.Limits)
		}
	}
	// Nothing given reads back as nothing.
	var out strings.Builder
	New().WriteGiven(&out)
	again := New()
	if err := again.Read("c.toml", []byte(out.String()), nil); err != nil || !reflect.DeepEqual(again, New()) {
		t.Errorf("%v, %+v from\n%s", err, again, out.String())
	}
}
