package gather

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse/report"
)

const inch = 25.4

func near(a, b float64) bool { return math.Abs(a-b) < 1e-6 }

// Finished 3 -> cut 3 1/2, finished 6 -> cut 6 1/2 in (165.1 mm): "Allowing for
// allowances", quilting lesson (check values 7.23). The seam is the block's outline
// (7b.10), so the outline is the finished size.
func TestJoinFinishedSizes(t *testing.T) {
	for _, c := range []struct{ cut, finished float64 }{{3.5 * inch, 3 * inch}, {6.5 * inch, 6 * inch}, {165.1, 152.4}} {
		j := Join(c.finished, c.finished, 1, 1, SeamMM)
		if !near(j.BlockMM[0], c.cut) || !near(j.FinishedMM[1], c.finished) || j.SeamMM != 0 || !near(j.RawMM[0], c.cut) {
			t.Errorf("finished %.1f: %+v, want cut %.1f", c.finished, j, c.cut)
		}
	}
	// Four blocks that finish at 6 in make 12 in, 12 1/2 in with the outer
	// allowance; two seams of 6 1/2 in and one of 12 1/2 in.
	j := Join(6*inch, 6*inch, 2, 2, SeamMM)
	if !near(j.InsideMM[0], 12*inch) || !near(j.RawMM[1], 12.5*inch) || !near(j.SeamMM, 25.5*inch) || j.Blocks != 4 {
		t.Errorf("%+v", j)
	}
	// A row of three.
	j = Join(6*inch, 3*inch, 3, 1, SeamMM)
	if !near(j.InsideMM[0], 18*inch) || !near(j.InsideMM[1], 3*inch) || !near(j.SeamMM, 7*inch) {
		t.Errorf("%+v", j)
	}
	if j := Join(0, 100, 2, 2, SeamMM); j != nil {
		t.Errorf("a block of no width: %+v", j)
	}
}

// The seam lies on the outline, and nothing that is sewn is cut off.
func TestJoinKeepsStitching(t *testing.T) {
	block := func(design, outline float64) *report.Report {
		return &report.Report{Path: "b", WidthMM: design, HeightMM: design, Stops: []report.Stop{
			{Number: 1, Role: report.RoleClothOutline, BoundsMM: [4]float64{-outline / 2, -outline / 2, outline / 2, outline / 2}}}}
	}
	g := DefaultSettings()
	g.Columns, g.Rows = 2, 1
	for _, c := range []struct{ design, outline, finished float64 }{
		{154, 150, 150}, // hold-downs 2 mm outside the outline lie within the allowance
		{150, 150, 150},
		{170, 150, 170}, // further out than a quarter of an inch: the seam goes outside
		{162.7, 150, 150},
		{162.8, 150, 162.8},
	} {
		j := Gather([]Wanted{{block(c.design, c.outline), 2}}, report.DefaultSettings(), g).Joined
		if !near(j.FinishedMM[0], c.finished) || j.BlockMM[0] < c.design-1e-9 {
			t.Errorf("a design of %g with an outline of %g finishes at %g, cut at %g", c.design, c.outline, j.FinishedMM[0], j.BlockMM[0])
		}
	}
	two := []Wanted{{block(150, 150), 1}, {block(140, 140), 1}}
	if j := Gather(two, report.DefaultSettings(), g).Joined; len(j.Unlike) != 1 {
		t.Errorf("%+v", j)
	}
}

// Thread changes counted by hand.
func TestOrderOfWork(t *testing.T) {
	block := func(path string, colours ...string) *report.Report {
		r := &report.Report{Path: path}
		for i, c := range colours {
			r.Stops = append(r.Stops, report.Stop{Number: i + 1, Colour: text(c), Minutes: 5})
		}
		return r
	}
	g := DefaultSettings()
	// Six blocks of red, blue, red: three changes each, less one where red goes on.
	a := block("a", "#f00", "#00f", "#f00")
	if o := orderOf([]Wanted{{a, 6}}, g, 40); o.OneByOne != 13 || o.ThreadChanges != 13 || o.HoopSwaps != 0 || o.SavedMinutes != 0 {
		t.Errorf("%+v", o)
	}
	// In two hoops: three rounds of three threads, red going on from round to round, and
	// a swap for each thread.
	g.Hoops = 2
	if o := orderOf([]Wanted{{a, 6}}, g, 40); o.ThreadChanges != 7 || o.HoopSwaps != 9 || !near(o.SavedMinutes, (6*40-9*20)/60.0) {
		t.Errorf("%+v", o)
	}
	// The design that begins with the thread in the machine comes next.
	g.Hoops = 1
	o := orderOf([]Wanted{{block("a", "#f00", "#00f"), 1}, {block("b", "#0f0", "#f00"), 1}, {block("c", "#00f", "#0f0"), 1}}, g, 40)
	if diff := cmp.Diff([]int{0, 2, 1}, o.Designs); diff != "" || o.OneByOne != 6 || o.ThreadChanges != 4 {
		t.Errorf("%+v", o)
	}
}

func TestPackShelves(t *testing.T) {
	square := func(n int, side float64) []Rect {
		var out []Rect
		for range n {
			out = append(out, Rect{WidthMM: side, HeightMM: side})
		}
		return out
	}
	for _, c := range []struct {
		name   string
		rects  []Rect
		width  float64
		length float64
		placed int
	}{
		{"none", nil, 1100, 0, 0},
		{"five abreast", square(5, 220), 1100, 220, 5},
		{"a sixth begins a row", square(6, 220), 1100, 440, 6},
		{"tenths that add up inexactly", square(10, 0.1), 1, 0.1, 10},
		{"the small go beside the tall", []Rect{{WidthMM: 40, HeightMM: 10}, {WidthMM: 60, HeightMM: 30}, {WidthMM: 50, HeightMM: 20}, {WidthMM: 50, HeightMM: 5}}, 100, 50, 4},
		{"turned to fit", []Rect{{WidthMM: 150, HeightMM: 80}}, 100, 150, 1},
		{"too wide", []Rect{{WidthMM: 150, HeightMM: 180}, {WidthMM: 50, HeightMM: 60}}, 100, 60, 1},
	} {
		length, placed := PackShelves(c.rects, c.width)
		if !near(length, c.length) || len(placed) != c.placed {
			t.Errorf("%s: length %v with %d placed, want %v with %d", c.name, length, len(placed), c.length, c.placed)
		}
		for i, a := range placed {
			if a.X < 0 || a.X+a.WidthMM > c.width+1e-6 || a.Y < 0 || a.Y+a.HeightMM > length+1e-6 {
				t.Errorf("%s: %+v lies off the cloth", c.name, a)
			}
			for _, b := range placed[:i] {
				if a.X < b.X+b.WidthMM-1e-6 && b.X < a.X+a.WidthMM-1e-6 && a.Y < b.Y+b.HeightMM-1e-6 && b.Y < a.Y+a.HeightMM-1e-6 {
					t.Errorf("%s: %+v lies over %+v", c.name, a, b)
				}
			}
		}
	}
}

func text(s string) *string { return &s }

// Figures worked by hand. Needle thread 5 m and bobbin 3 m a thousand stitches
// (thread maker's glossary), here for 20 000 stitches in two colours.
func TestGather(t *testing.T) {
	r := &report.Report{
		Path: "block.dst", WidthMM: 165.1, HeightMM: 165.1, Minutes: 44, NeedleThreadM: 100, BobbinThreadM: 60,
		Stops: []report.Stop{
			{Number: 1, Colour: text("#ff0000"), ColourName: text("red"), NeedleThreadM: 30, Minutes: 10},
			{Number: 2, Colour: text("#008000"), ColourName: text("green"), NeedleThreadM: 40, Minutes: 20},
			{Number: 3, Colour: text("#ff0000"), ColourName: text("red"), NeedleThreadM: 20, Minutes: 5},
			{Number: 4, Role: "quilting", NeedleThreadM: 10, Minutes: 9},
		},
		Cloths: []report.Cloth{
			{Kind: "block cloth", Stop: 1, WidthMM: 200, HeightMM: 200},
			{Kind: "applique cloth", Piece: 1, Stop: 2, WidthMM: 100, HeightMM: 50},
			{Kind: "applique cloth", Piece: 2, Stop: 2, WidthMM: 60, HeightMM: 80},
		},
	}
	s := report.DefaultSettings()
	s.HoopWidthMM, s.HoopHeightMM = 180, 300
	g := DefaultSettings()
	g.Blocks, g.SpoolM, g.ClothWidthMM, g.Columns, g.Rows = 10, 250, 450, 5, 2
	got := Gather(All([]*report.Report{r}), s, g)

	want := &Gathering{
		Settings: g, Designs: []string{"block.dst"}, Counts: []int{10},
		Threads: []ThreadNeed{
			{Colour: text("#ff0000"), Name: "red", Stops: 2, Metres: 500, BuyM: 550, Spools: 3}, // 550 m with the reserve
			{Colour: text("#008000"), Name: "green", Stops: 1, Metres: 400, BuyM: 440, Spools: 2},
			{Name: "stop 4: quilting", Stops: 1, Metres: 100, BuyM: 110, Spools: 1},
		},
		BobbinThreadM: 600, Bobbins: 7, // 660 m, 100 m on each
		Cloths: []ClothNeed{
			{"block.dst", "block cloth", 0, 10, 200, 200, ""},
			{"block.dst", "applique cloth", 1, 10, 100, 50, ""},
			{"block.dst", "applique cloth", 2, 10, 60, 80, ""},
			{"block.dst", "stabiliser", 0, 10, 230.8, 350.8, ""},
		},
		Lengths: []ClothCut{
			{"block cloth", 0, "", 10, 1000, 9, 0, ""}, // two abreast
			// Seven of piece 2 abreast fill 420 mm, the other three leave 270 mm
			// for two of piece 1; the rest are four abreast.
			{"applique cloth", 0, "", 20, 80 + 80 + 50 + 50, 3, 0, ""},
			{"stabiliser", 0, "", 10, 3508, 31, 0, ""},
			{"applique cloth", 1, "block.dst", 10, 150, 2, 0, ""},
			{"applique cloth", 2, "block.dst", 10, 160, 2, 0, ""},
		},
		Minutes: 440 + 10*4, // with hooping
		Joined:  Join(165.1, 165.1, 5, 2, SeamMM),
	}
	want.Sittings, want.Order = got.Sittings, got.Order
	var sat float64
	for _, x := range got.Sittings {
		sat += x.Minutes
	}
	if !near(sat, got.Minutes) {
		t.Errorf("%g minutes in sittings, %g in all", sat, got.Minutes)
	}
	if diff := cmp.Diff(want, got, cmp.Comparer(near)); diff != "" {
		t.Error(diff)
	}
}

func TestSittings(t *testing.T) {
	r := &report.Report{Path: "a", Stops: []report.Stop{{Number: 1, Minutes: 20}, {Number: 2, Minutes: 35}, {Number: 3, Minutes: 70}}}
	g := DefaultSettings()
	g.Blocks, g.HoopingMinutes = 2, 5
	want := []Sitting{
		{"a", 1, 1, "a", 1, 2, 60},
		{"a", 1, 3, "a", 1, 3, 70}, // longer than a sitting, and not parted
		{"a", 2, 1, "a", 2, 2, 60},
		{"a", 2, 3, "a", 2, 3, 70},
	}
	if diff := cmp.Diff(want, Gather(All([]*report.Report{r}), report.DefaultSettings(), g).Sittings); diff != "" {
		t.Error(diff)
	}
	g.SittingMinutes = 1000
	if got := Gather(All([]*report.Report{r}), report.DefaultSettings(), g).Sittings; len(got) != 1 || got[0].Minutes != 260 || got[0].ToBlock != 2 {
		t.Errorf("%+v", got)
	}
}

// An empty design and no design need nothing.
func TestGatherNothing(t *testing.T) {
	for _, reports := range [][]*report.Report{nil, {{Path: "empty"}}} {
		g := DefaultSettings()
		g.Columns, g.Rows = 2, 2
		got := Gather(All(reports), report.DefaultSettings(), g)
		if len(got.Threads) != 0 || got.Bobbins != 0 || got.Joined != nil || len(got.Sittings) != 0 {
			t.Errorf("%+v", got)
		}
	}
}

// Pieces that the notes cut from one cloth are laid out on it together, whatever their
// design; the others each have a cloth of their own.
func TestNotedCloths(t *testing.T) {
	design := func(path string, cloths ...string) *report.Report {
		r := &report.Report{Path: path, Stops: []report.Stop{{Number: 1, Minutes: 5}}}
		for i, c := range cloths {
			r.Pieces = append(r.Pieces, report.Piece{Number: i + 1, Cloth: c})
			r.Cloths = append(r.Cloths, report.Cloth{Kind: "applique cloth", Piece: i + 1, WidthMM: 100, HeightMM: 50})
		}
		return r
	}
	row := func(c ClothCut) string {
		return fmt.Sprintf("%s %d %s: %d from %g", c.Design, c.Piece, c.Cloth, c.Count, c.LengthMM)
	}
	for _, c := range []struct {
		name    string
		designs []*report.Report
		want    []string
	}{
		{"none noted", []*report.Report{design("a", "", "")}, []string{" 0 : 2 from 50", "a 1 : 1 from 50", "a 2 : 1 from 50"}},
		{"some noted", []*report.Report{design("a", "blue check", ""), design("b", "blue check")},
			[]string{" 0 : 3 from 50", " 0 blue check: 2 from 50", "a 2 : 1 from 50"}},
		{"all noted", []*report.Report{design("a", "blue check", "red"), design("b", "blue check")},
			[]string{" 0 blue check: 2 from 50", " 0 red: 1 from 50"}},
	} {
		var got []string
		for _, l := range Gather(All(c.designs), report.DefaultSettings(), DefaultSettings()).Lengths {
			if l.Kind == "applique cloth" {
				got = append(got, row(l))
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

// Stops for which the notes name one thread need one, and it has no colour of the file's
// where theirs differ.
func TestNotedThreads(t *testing.T) {
	stop := func(n int, colour string) report.Stop {
		return report.Stop{Number: n, Colour: &colour, ThreadName: "pine", ThreadNoted: true, NeedleThreadM: 10, Minutes: 5}
	}
	for _, c := range []struct {
		second string
		want   bool
	}{{"#008000", true}, {"#00ff00", false}} {
		r := &report.Report{Stops: []report.Stop{stop(1, "#008000"), stop(2, c.second)}}
		got := Gather(All([]*report.Report{r}), report.DefaultSettings(), DefaultSettings())
		if len(got.Threads) != 1 || got.Threads[0].Metres != 20 || (got.Threads[0].Colour != nil) != c.want {
			t.Errorf("with %s: %+v", c.second, got.Threads)
		}
		if got.Order.ThreadChanges != 1 {
			t.Errorf("with %s: %d changes of one thread", c.second, got.Order.ThreadChanges)
		}
	}
}
