package notes

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"reflect"
	"slices"
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
	t.Helper()
	return open(t, filepath.Join("..", "..", "testdata", "demo", name))
}

// The demo pack: three formats of each size share a sign, and sizes share stops.
func TestSignOfThePack(t *testing.T) {
	for _, a := range []string{"kettle-100", "kettle-125", "kettle-150"} {
		for _, b := range []string{"kettle-100", "kettle-125", "kettle-150"} {
			for _, ext := range []string{".dst", ".jef", ".pes"} {
				fit, stops := SignOf(demoFile(t, a+".dst")).Against(SignOf(demoFile(t, b+ext)), false)
				want := OtherSize
				if a == b {
					want = SameStitches
				}
				if fit != want {
					t.Errorf("%s.dst against %s%s: %d, want %d", a, b, ext, fit, want)
				}
				for n := 1; n < len(stops); n++ {
					if stops[n] != n && (n < 22 || stops[n] != 0) { // the quilting of stop 22 has other lines in each size
						t.Errorf("%s.dst against %s%s: stop %d goes with %d", a, b, ext, n, stops[n])
					}
				}
			}
		}
	}
	// The faulty copy has lost its stop 13 to others, and two stops are new.
	_, stops := SignOf(demoFile(t, "kettle-150.dst")).Against(SignOf(demoFile(t, "kettle-150-faulty.dst")), false)
	if stops[12] != 12 || stops[22] != 23 {
		t.Errorf("against the faulty copy: %v", stops)
	}
}

// What is no part of the stitches does not show in the sign: the place, colours,
// trims, how travel is written, halts; roundings of formats are borne.
func TestSignHoldsAcrossEncodings(t *testing.T) {
	d := demoFile(t, "kettle-150.pes")
	own := SignOf(d)
	for name, change := range map[string]func(*stitchfile.Design){
		"moved": func(d *stitchfile.Design) {
			for i := range d.Moves {
				d.Moves[i].X += 1234
				d.Moves[i].Y -= 777
			}
		},
		"without colours": func(d *stitchfile.Design) { d.Threads = nil },
		"without jumps and trims": func(d *stitchfile.Design) {
			d.Moves = slices.DeleteFunc(d.Moves, func(m stitchfile.Move) bool { return m.Kind == stitchfile.Jump || m.Kind == stitchfile.Trim })
		},
		"travel in short jumps": func(d *stitchfile.Design) {
			var out []stitchfile.Move
			for _, m := range d.Moves {
				if m.Kind == stitchfile.Jump {
					out = append(out, stitchfile.Move{X: m.X / 2, Y: m.Y / 2, Kind: stitchfile.Jump})
				}
				out = append(out, m)
			}
			d.Moves = out
		},
		"an empty stop at the end": func(d *stitchfile.Design) {
			last := d.Moves[len(d.Moves)-1]
			d.Moves = append(d.Moves, stitchfile.Move{X: last.X, Y: last.Y, Kind: stitchfile.ColourStop}, stitchfile.Move{X: last.X, Y: last.Y, Kind: stitchfile.End})
		},
		"rounded to 0.2 mm": func(d *stitchfile.Design) {
			for i := range d.Moves {
				d.Moves[i].X, d.Moves[i].Y = d.Moves[i].X/2*2, d.Moves[i].Y/2*2
			}
		},
	} {
		c := *d
		c.Moves = slices.Clone(d.Moves)
		change(&c)
		if fit, _ := own.Against(SignOf(&c), false); fit != SameStitches {
			t.Errorf("%s: %d", name, fit)
		}
	}
	for name, change := range map[string]func(*stitchfile.Design){
		"a mirrored copy":      func(d *stitchfile.Design) { each(d, func(m *stitchfile.Move) { m.X = -m.X }) },
		"turned by a quarter":  func(d *stitchfile.Design) { each(d, func(m *stitchfile.Move) { m.X, m.Y = -m.Y, m.X }) },
		"one part moved aside": func(d *stitchfile.Design) { moveStop(d, 2, 25) },
		"stretched by 2 %":     func(d *stitchfile.Design) { each(d, func(m *stitchfile.Move) { m.X, m.Y = m.X*51/50, m.Y*51/50 }) },
	} {
		c := *d
		c.Moves = slices.Clone(d.Moves)
		change(&c)
		if fit, _ := own.Against(SignOf(&c), false); fit == SameStitches {
			t.Errorf("%s counts as the same stitches", name)
		}
	}
}

func each(d *stitchfile.Design, f func(*stitchfile.Move)) {
	for i := range d.Moves {
		f(&d.Moves[i])
	}
}

func moveStop(d *stitchfile.Design, stop int, by int32) {
	n := 0
	each(d, func(m *stitchfile.Move) {
		if m.Kind == stitchfile.ColourStop {
			n++
		}
		if n == stop {
			m.X += by
		}
	})
}

// Designs of other people: a format of one design has its sign, and no design has
// that of another. Which belong together is from the list that came with them.
func TestSignOfRealDesigns(t *testing.T) {
	root := filepath.Join("..", "..", "..", "shared", "designs")
	var names []string
	var signs []Sign
	err := filepath.WalkDir(root, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d, _ := stitchfile.Open(path); !e.IsDir() && d != nil {
			names, signs = append(names, filepath.ToSlash(path[len(root)+1:])), append(signs, SignOf(d))
		}
		return nil
	})
	if err != nil {
		t.Skipf("the folder of real designs is not here: %v", err)
	}
	group := func(name string) string {
		for _, g := range []string{"FRAME_OUT1200 FRAME_OUT900 FRAME_OUT600 FRAME_OUT300", "FRAME_OUT1280 FRAME_OUT880 FRAME_OUT480", "krebs", "earth", "satin_stitch_border"} {
			for w := range strings.FieldsSeq(g) {
				if strings.Contains(name, w) {
					return g
				}
			}
		}
		return strings.TrimSuffix(name, filepath.Ext(name))
	}
	same := 0
	for i := range signs {
		for j := range signs[:i] {
			fit, _ := signs[i].Against(signs[j], false)
			stem := strings.TrimSuffix(names[i], filepath.Ext(names[i])) == strings.TrimSuffix(names[j], filepath.Ext(names[j]))
			switch {
			case fit != NoFit && group(names[i]) != group(names[j]):
				t.Errorf("%s and %s: %d", names[i], names[j], fit)
			case fit == SameStitches:
				same++
			case stem && !strings.Contains(names[i], "hexagon"): // one of the two is damaged
				t.Errorf("%s and %s are one design in two formats: %d", names[i], names[j], fit)
			}
		}
	}
	if same < 9 {
		t.Errorf("only %d pairs have one sign", same)
	}
}

func TestSignText(t *testing.T) {
	for _, s := range []Sign{{}, {Width: 1, Height: 2}, SignOf(demoFile(t, "kettle-150.dst")),
		{Width: 1e9, Height: 3, Stops: []StopSign{{Points: 1, PathMM: 2e9, MeanX: -4000, MeanY: 4000, SpreadX: 1, SpreadY: 1 << 30}}}} {
		got, err := ParseSign(s.String())
		if err != nil || !reflect.DeepEqual(got, s) {
			t.Errorf("%v comes back as %v, %v", s, got, err)
		}
	}
	for _, text := range []string{"", "1", "1.", "2.AAAA", "1.A", "1.????", "1." + strings.Repeat("_", 400), "1." + strings.Repeat("A", 1<<17)} {
		if s, err := ParseSign(text); !errors.Is(err, errNoSign) && text != "1." {
			t.Errorf("%.20q is read as %v, %v", text, s, err)
		}
	}
}

func FuzzParseSign(f *testing.F) {
	f.Add("1.")
	f.Add(Sign{Width: 1500, Height: 1500, Stops: []StopSign{{Points: 10, PathMM: 20}}}.String())
	f.Fuzz(func(t *testing.T, text string) {
		s, err := ParseSign(text)
		if err != nil {
			return
		}
		if again, err := ParseSign(s.String()); err != nil || fmt.Sprint(again) != fmt.Sprint(s) {
			t.Errorf("%q: %v comes back as %v, %v", text, s, again, err)
		}
		s.Against(s, true)
	})
}
