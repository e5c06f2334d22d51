package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

var gatherVerb = verb{
	name:    "gather",
	args:    "FILE[=COUNT]...",
	doc:     "what to have at hand for so many blocks, or for a quilt of different ones: thread, bobbins, cloth, time",
	example: "stopcard gather --join 3x4 --hoop 200x200 block.pes=6 star.pes=6",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		g := &gatherer{set: gather.DefaultSettings()}
		g.reserve = g.set.Reserve * 100
		g.in.add(f)
		g.in.addChoice(f)
		f.Var(settingsfile.Count(&g.set.Blocks, 1, 10000), "blocks", "how many of each design (default: 1, or as many as --join takes)")
		f.Var(&joinFlag{&g.set}, "join", "columns and rows of blocks to be sewn together, such as 2x2")
		f.Var(settingsfile.Number(&g.set.SeamMM, 0, 100, "mm"), "seam", "seam allowance at each edge of a block")
		f.Var(settingsfile.Number(&g.reserve, 0, 200, "percent"), "reserve", "thread to buy beyond the estimate")
		f.Var(settingsfile.Number(&g.set.StabiliserMM, 0, 200, "mm"), "stabiliser-margin", "how far stabiliser reaches past the hoop's field")
		for _, name := range []string{"spool-m", "cloth-width", "sitting-minutes"} {
			g.in.addSetting(f, name)
		}
		f.Var(settingsfile.Number(&g.set.HoopingMinutes, 0, 120, "minutes"), "hooping-minutes", "to hoop one block and take it out again")
		f.Var(settingsfile.Count(&g.set.Hoops, 1, 20), "hoops", "hoops of one size to be sewn in turn, which saves changes of thread")
		f.StringVar(&g.plan, "plan", "", "plan of a quilt: a TOML file with columns, rows, and [[block]] with file and count")
		f.BoolVar(&g.sum, "sum", false, "one list for all designs together, not one for each")
		f.BoolVar(&g.json, "json", false, "print JSON instead of text")
		f.BoolVar(&g.csv, "csv", false, "print a table for a spreadsheet instead of text")
		g.blocksGiven = func() bool { return f.Changed("blocks") }
		return g.run
	},
}

// gatherer is one run of gather.
type gatherer struct {
	in             inputFlags
	set            gather.Settings
	reserve        float64
	blocksGiven    func() bool
	plan           string
	sum, json, csv bool
}

func (g *gatherer) run(s *session, paths []string) int {
	if g.json && g.csv {
		s.complain("gather: --json and --csv exclude one another")
		return exitUsage
	}
	g.set.SpoolM, g.set.ClothWidthMM, g.set.SittingMinutes, g.set.Reserve = g.in.SpoolM, g.in.ClothMM, g.in.SittingMinutes, g.reserve/100
	want, err := g.wanted(paths)
	if err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	// Counts make a quilt of what is named.
	counts := map[string]int{}
	paths = nil
	for _, w := range want {
		if counts[w.path] == 0 && !slices.Contains(paths, w.path) || w.count == 0 {
			paths = append(paths, w.path)
		}
		counts[w.path] += w.count
		g.sum = g.sum || w.count > 0
	}
	if n := g.set.Columns * g.set.Rows; n > 0 && !g.blocksGiven() && len(want) == 1 && want[0].count == 0 {
		g.set.Blocks = n
	}
	chosen := g.in.choose(s, paths)
	if chosen == exitUsage {
		return chosen
	}
	if chosen == exitStopped {
		return g.stopped(s, nil, nil)
	}
	var lists []*gather.Gathering
	var designs []gather.Wanted
	var partly []*report.Report // slim, not all there
	status, t := batch(&g.in, s, paths, func(*input) struct{} { return struct{}{} }, func(got *input, _ struct{}) int {
		one := gather.Wanted{Report: slim(got.report), Count: counts[got.named]}
		if one.Report.Partial() != "" {
			partly = append(partly, one.Report)
		}
		if g.sum {
			designs = append(designs, one)
		} else {
			lists = append(lists, gather.Gather([]gather.Wanted{one}, g.in.Settings, g.set))
		}
		return exitOK
	}, nil)
	status = max(chosen, status)
	if status == exitUsage {
		return status
	}
	if status == exitStopped {
		return g.stopped(s, lists, t.unreadable)
	}
	if len(designs)+len(lists) == 0 && !g.json {
		return status
	}
	if len(designs) > 0 {
		lists = append(lists, gather.Gather(designs, g.in.Settings, g.set))
	}
	switch {
	case g.json:
		err = s.printJSON(g.document(lists, t.unreadable, true))
	case g.csv:
		err = gatherCSV(s.stdout, lists)
	default:
		for _, r := range partly {
			fmt.Fprintln(s.stdout, clip(printable(r.Path), 4*s.width()))
			s.layout(&g.in).partial(s.stdout, r)
			fmt.Fprintln(s.stdout)
		}
		for i, list := range lists {
			if i > 0 {
				fmt.Fprintln(s.stdout)
			}
			s.layout(&g.in).gathering(s.stdout, list, g.in.Settings)
		}
	}
	if err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	return status
}

// stopped ends a run that was interrupted. Lists of single designs are whole; a sum of some
// of the designs would be taken for what the quilt needs, and is not told. A document says
// that it is not complete.
func (g *gatherer) stopped(s *session, lists []*gather.Gathering, unreadable []report.Unreadable) int {
	if g.json {
		if err := s.printJSON(g.document(lists, unreadable, false)); err != nil {
			s.complain("%v", err)
		}
	}
	return exitStopped
}

func (g *gatherer) document(lists []*gather.Gathering, unreadable []report.Unreadable, complete bool) gather.Document {
	return gather.Document{Schema: gather.Schema, Gatherings: append([]*gather.Gathering{}, lists...),
		Unreadable: append(append([]report.Unreadable{}, g.in.choice.unreadable...), unreadable...), Complete: complete}
}

// wanted is what to make, from the arguments or the plan.
func (g *gatherer) wanted(args []string) ([]counted, error) {
	if g.plan == "" {
		return countedPaths(args)
	}
	if len(args) > 0 {
		return nil, fmt.Errorf("gather: --plan names the files; name no others")
	}
	p, want, err := readPlan(g.plan)
	if err != nil {
		return nil, err
	}
	if p.Columns > 0 && g.set.Columns == 0 {
		g.set.Columns, g.set.Rows = p.Columns, p.Rows
	}
	if p.Seam != "" {
		v, err := settingsfile.ParseLength(p.Seam)
		if err != nil || !(v >= 0 && v <= 100) {
			return nil, fmt.Errorf("%s: seam: expected 0 to 100 mm, such as \"1/4in\", got %q", g.plan, p.Seam)
		}
		g.set.SeamMM = v
	}
	return want, nil
}

// slim is what Gather reads of a report, so that the rest need not be held.
func slim(r *report.Report) *report.Report {
	var pieces []report.Piece
	for i := range r.Pieces {
		pieces = append(pieces, report.Piece{Number: r.Pieces[i].Number, Cloth: r.Pieces[i].Cloth})
	}
	return &report.Report{Pieces: pieces, Path: r.Path, WidthMM: r.WidthMM, HeightMM: r.HeightMM, Minutes: r.Minutes, MachineMin: r.MachineMin, HandMin: r.HandMin, BobbinThreadM: r.BobbinThreadM, Stops: r.Stops, Cloths: r.Cloths,
		Damage: r.Damage, Whole: r.Whole}
}

// joinFlag is columns and rows.
type joinFlag struct{ set *gather.Settings }

func (f *joinFlag) Type() string { return "columns x rows" }
func (f *joinFlag) String() string {
	if f.set.Columns == 0 {
		return ""
	}
	return fmt.Sprintf("%dx%d", f.set.Columns, f.set.Rows)
}

func (f *joinFlag) Set(text string) error {
	c, r, _ := strings.Cut(strings.ToLower(text), "x")
	columns, err1 := strconv.Atoi(strings.TrimSpace(c))
	rows, err2 := strconv.Atoi(strings.TrimSpace(r))
	if err1 != nil || err2 != nil || columns < 1 || rows < 1 || columns > 100 || rows > 100 {
		return fmt.Errorf("expected columns and rows such as 2x2, at most 100x100, got %q", text)
	}
	f.set.Columns, f.set.Rows = columns, rows
	return nil
}

// gatherCSV writes one table; cells that do not apply are empty.
func gatherCSV(w io.Writer, lists []*gather.Gathering) error {
	out := csv.NewWriter(w)
	out.Write([]string{"designs", "item", "what", "piece", "count", "metres", "width_mm", "height_mm", "length_mm", "minutes"})
	num := func(v float64) string { return settingsfile.Plain(v) }
	for _, g := range lists {
		of := cell(strings.Join(g.Designs, "; "))
		row := func(item, what, piece, count, metres, width, height, length, minutes string) {
			out.Write([]string{of, item, cell(what), piece, count, metres, width, height, length, minutes})
		}
		for _, t := range g.Threads {
			what := t.Name
			if t.Colour != nil {
				what += " " + *t.Colour
			}
			row("spools of needle thread", what, "", strconv.Itoa(t.Spools), num(t.Metres), "", "", "", "")
		}
		row("bobbins", "", "", strconv.Itoa(g.Bobbins), num(g.BobbinThreadM), "", "", "", "")
		for _, c := range g.Cloths {
			row("to cut", clothWords(c.Kind, c.Cloth), piece(c.Piece), strconv.Itoa(c.Count), "", num(c.WidthMM), num(c.HeightMM), "", "")
		}
		for _, c := range g.Lengths {
			row("to buy", clothWords(c.Kind, c.Cloth), piece(c.Piece), strconv.Itoa(c.Count), "", num(g.Settings.ClothWidthMM), "", num(c.LengthMM), "")
		}
		row("sittings", "", "", strconv.Itoa(len(g.Sittings)), "", "", "", "", num(g.Minutes))
		if j := g.Joined; j != nil {
			row("joined", "all that shows", "", strconv.Itoa(j.Blocks), "", num(j.InsideMM[0]), num(j.InsideMM[1]), "", "")
			row("joined", "with the outer seam allowance", "", strconv.Itoa(j.Blocks), "", num(j.RawMM[0]), num(j.RawMM[1]), "", "")
		}
	}
	out.Flush()
	return out.Error()
}

// clothWords is a kind of cloth with what the notes say it is.
func clothWords(kind, cloth string) string {
	if cloth == "" {
		return kind
	}
	return kind + ": " + cloth
}

func piece(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// cell keeps a spreadsheet from taking text from outside for a formula.
func cell(text string) string {
	text = printable(text)
	if text != "" && strings.ContainsRune("=+-@", rune(text[0])) {
		return "'" + text
	}
	return text
}
