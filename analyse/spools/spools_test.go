package spools

import (
	"fmt"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

func lab(t *testing.T, hex string) words.Lab {
	t.Helper()
	c, ok := words.ParseHex(hex)
	if !ok {
		t.Fatalf("%q is no colour", hex)
	}
	return words.LabOf(c)
}

func needs(t *testing.T, hexes ...string) []Need {
	var out []Need
	for _, h := range hexes {
		out = append(out, Need{Colour: lab(t, h)})
	}
	return out
}

// names of the threads chosen, with a mark where one is shared.
func chosen(box []report.OwnThread, cs []Choice) string {
	var out string
	for _, c := range cs {
		name := "none"
		if c.Thread >= 0 {
			name = box[c.Thread].Name
		}
		if c.Shared {
			name += "*"
		}
		out += name + " "
	}
	return out
}

func TestChoose(t *testing.T) {
	box := []report.OwnThread{
		{Name: "pine", Colour: "#114726"}, {Name: "leaf", Colour: "#20993a"},
		{Name: "brick", Colour: "#c6544f"}, {Name: "snow", Colour: "#ffffff"},
	}
	for _, c := range []struct {
		name   string
		box    []report.OwnThread
		needs  []string
		beside [][2]int
		want   string
	}{
		{"the nearest of each", box, []string{"#0b4f28", "#d81c27", "#f3ebd8"}, nil, "pine brick snow "},
		{"apart, two greens may share", box, []string{"#22953c", "#28903f"}, nil, "leaf leaf "},
		{"side by side they may not", box, []string{"#22953c", "#28903f"}, [][2]int{{0, 1}}, "leaf pine "},
		{"unless there is no other", box[:1], []string{"#0b4f28", "#114726"}, [][2]int{{0, 1}}, "pine* pine* "},
		{"of what is off the nearest is told", box[:2], []string{"#e8e030", "#e0e840"}, [][2]int{{0, 1}}, "leaf leaf "},
		{"what is off is not sewn with it", box[:1], []string{"#114726", "#28903f"}, [][2]int{{0, 1}}, "pine pine "},
		{"an empty box", nil, []string{"#22953c"}, nil, "none "},
		{"no colour that can be read", []report.OwnThread{{Name: "odd", Colour: "green"}}, []string{"#22953c"}, nil, "none "},
	} {
		all := needs(t, c.needs...)
		for _, b := range c.beside {
			all[b[0]].Beside, all[b[1]].Beside = append(all[b[0]].Beside, b[1]), append(all[b[1]].Beside, b[0])
		}
		if got := chosen(c.box, Choose(all, c.box, 40)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// A thin or a thick thread lies otherwise, and is taken only for want of another.
// 25 % either way is let pass: 40 and 50 wt, not 40 and 60.
func TestChooseWeight(t *testing.T) {
	for _, c := range []struct {
		weight float64
		want   string
	}{{50, "close "}, {50.1, "far "}, {32, "close "}, {31.9, "far "}, {0, "close "}} {
		box := []report.OwnThread{{Name: "close", Colour: "#20993a", Weight: c.weight}, {Name: "far", Colour: "#114726", Weight: 40}}
		if got := chosen(box, Choose(needs(t, "#22953c"), box, 40)); got != c.want {
			t.Errorf("%v wt: %s, want %s", c.weight, got, c.want)
		}
	}
	alone := []report.OwnThread{{Name: "thick", Colour: "#20993a", Weight: 12}}
	if got := chosen(alone, Choose(needs(t, "#22953c"), alone, 40)); got != "thick " {
		t.Errorf("with nothing else: %s", got)
	}
}

func TestNear(t *testing.T) {
	for _, c := range []struct {
		d    float64
		want report.Nearness
	}{{0, report.NearSame}, {2.5, report.NearSame}, {2.51, report.NearClose}, {7, report.NearClose}, {7.01, report.NearOff}, {100, report.NearOff}} {
		if got := Near(c.d); got != c.want {
			t.Errorf("%v: %s, want %s", c.d, got, c.want)
		}
	}
}

func ExampleChoose() {
	box := []report.OwnThread{{Name: "pine", Colour: "#114726"}, {Name: "brick", Colour: "#c6544f"}}
	red, _ := words.ParseHex("#b8433a")
	c := Choose([]Need{{Colour: words.LabOf(red)}}, box, 40)[0]
	fmt.Printf("%s, %s (%.1f)\n", box[c.Thread].Name, Near(c.Difference), c.Difference)
	// Output: brick, close (6.0)
}
