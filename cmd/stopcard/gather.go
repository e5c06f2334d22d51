package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

var gatherVerb = verb{
	name:    "gather",
	args:    "FILE...",
	doc:     "what to have at hand for so many blocks: thread, bobbins, cloth, time",
	example: "stopcard gather --blocks 12 --join 3x4 --hoop 200x200 block.pes",
	prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		g := &gatherer{set: gather.DefaultSettings()}
		g.reserve = g.set.Reserve * 100
		g.in.add(f)
		f.Var(countFlag{&g.set.Blocks, 1, 10000}, "blocks", "how many of each design (default: 1, or as many as --join takes)")
		f.Var(&joinFlag{&g.set}, "join", "columns and rows of blocks to be sewn together, such as 2x2")
		f.Var(numberFlag{&g.set.SeamMM, 0, 100, "mm"}, "seam", "seam allowance at each edge of a block")
		f.Var(numberFlag{&g.reserve, 0, 200, "percent"}, "reserve", "thread to buy beyond the estimate")
		f.Var(numberFlag{&g.set.StabiliserMM, 0, 200, "mm"}, "stabiliser-margin", "how far stabiliser reaches past the hoop's field")
		for _, name := range []string{"spool-m", "cloth-width", "sitting-minutes"} {
			g.in.addSetting(f, name)
		}
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
	sum, json, csv bool
}

func (g *gatherer) run(s *session, paths []string) int {
	if g.json && g.csv {
		s.complain("gather: --json and --csv exclude one another")
		return exitUsage
	}
	g.set.SpoolM, g.set.ClothWidthMM, g.set.SittingMinutes, g.set.Reserve = g.in.spoolM, g.in.clothMM, g.in.sitting, g.reserve/100
	if n := g.set.Columns * g.set.Rows; n > 0 && !g.blocksGiven() {
		g.set.Blocks = n
	}
	var lists []*gather.Gathering
	var reports []*report.Report
	status := g.in.each(s, paths, func(got *input) int {
		r := slim(got.report)
		if g.sum {
			reports = append(reports, r)
		} else {
			lists = append(lists, gather.Gather([]*report.Report{r}, g.in.settings, g.set))
		}
		return exitOK
	})
	if status == exitUsage || status == exitStopped {
		return status
	}
	if len(reports)+len(lists) == 0 {
		return status
	}
	if len(reports) > 0 {
		lists = append(lists, gather.Gather(reports, g.in.settings, g.set))
	}
	var err error
	switch {
	case g.json:
		e := json.NewEncoder(s.stdout)
		e.SetIndent("", "  ")
		err = e.Encode(append([]*gather.Gathering{}, lists...))
	case g.csv:
		err = gatherCSV(s.stdout, lists)
	default:
		for i, list := range lists {
			if i > 0 {
				fmt.Fprintln(s.stdout)
			}
			s.layout(&g.in).gathering(s.stdout, list, g.in.settings)
		}
	}
	if err != nil {
		s.complain("%v", err)
		return exitUsage
	}
	return status
}

// slim is what Gather reads of a report, so that the rest need not be held.
func slim(r *report.Report) *report.Report {
	return &report.Report{Path: r.Path, WidthMM: r.WidthMM, HeightMM: r.HeightMM, Minutes: r.Minutes, BobbinThreadM: r.BobbinThreadM, Stops: r.Stops, Cloths: r.Cloths}
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

// gathering writes the list for people.
func (l layout) gathering(w io.Writer, g *gather.Gathering, s report.Settings) {
	var paths []string
	for _, p := range g.Designs {
		paths = append(paths, printable(p))
	}
	l.para(w, 0, "", fmt.Sprintf("For %s of %s:", plural(g.Settings.Blocks, "block"), strings.Join(paths, ", ")))

	fmt.Fprintln(w)
	l.para(w, 0, "", fmt.Sprintf("Thread, with %s %% in reserve on spools of %s; bobbins of %s", plain(g.Settings.Reserve*100), l.units.metres(g.Settings.SpoolM), l.units.metres(s.BobbinM)))
	for _, t := range g.Threads {
		name := printable(t.Name)
		if t.Colour != nil {
			name += " " + *t.Colour
		}
		fmt.Fprintf(w, "  %s %22s  %s\n", pad(name, l.width-40), l.units.metres(t.Metres), plural(t.Spools, "spool"))
	}
	fmt.Fprintf(w, "  %s %22s  %s\n", pad("bobbin thread", l.width-40), l.units.metres(g.BobbinThreadM), plural(g.Bobbins, "bobbin"))

	fmt.Fprintf(w, "\nTo cut\n")
	for _, c := range g.Cloths {
		what := c.Kind
		if c.Piece > 0 {
			what += fmt.Sprintf(", piece %d", c.Piece)
		}
		fmt.Fprintf(w, "  %s %4d of %s\n", pad(what, 26), c.Count, l.units.size(c.WidthMM, c.HeightMM))
	}
	if s.HoopWidthMM <= 0 {
		l.para(w, 2, "", "No hoop is given (--hoop), so the stabiliser is sized by the design: cut it to be held by your hoop all round.")
	}

	fmt.Fprintf(w, "\nCloth to buy, %s wide\n", l.units.length(g.Settings.ClothWidthMM))
	for _, c := range g.Lengths {
		what := c.Kind
		if c.Piece > 0 {
			what += fmt.Sprintf(", piece %d alone", c.Piece)
		} else if c.Kind == "applique cloth" {
			what += ", all from one cloth"
		}
		fmt.Fprintf(w, "  %s %4d from %s\n", pad(what, 40), c.Count, l.units.length(c.LengthMM))
		if c.TooWide > 0 {
			l.para(w, 4, "", fmt.Sprintf("of these, %d are too large for this cloth: piece it or take a wider one", c.TooWide))
		}
	}

	fmt.Fprintf(w, "\nTime: %s with hand work, in %s of up to %s\n", words.AboutTime(g.Minutes), plural(len(g.Sittings), "sitting"), words.TimeWords(g.Settings.SittingMinutes))
	const most = 12
	for i, t := range g.Sittings {
		if i == most {
			fmt.Fprintf(w, "  and %d more\n", len(g.Sittings)-most)
			break
		}
		of := ""
		if len(g.Designs) > 1 {
			of = printable(t.Design) + " "
		}
		fmt.Fprintf(w, "  %2d: from %sblock %d stop %d to the end of block %d stop %d, %s\n", i+1, of, t.FromBlock, t.FromStop, t.ToBlock, t.ToStop, words.TimeWords(t.Minutes))
	}

	if j := g.Joined; j != nil {
		fmt.Fprintf(w, "\nJoined %d x %d with a seam allowance of %s\n", g.Settings.Columns, g.Settings.Rows, l.units.length(g.Settings.SeamMM))
		for _, row := range []struct {
			what string
			size [2]float64
		}{{"a block, trimmed to the design's outline", j.BlockMM}, {"of it shows", j.FinishedMM}, {"all that shows", j.InsideMM}, {"with the outer seam allowance", j.RawMM}} {
			fmt.Fprintf(w, "  %s %s\n", pad(row.what, 41), l.units.size(row.size[0], row.size[1]))
		}
		if n := g.Settings.Blocks * len(g.Designs); n != j.Blocks {
			l.para(w, 2, "", fmt.Sprintf("This takes %s; the list above is for %d.", plural(j.Blocks, "block"), n))
		}
	} else if g.Settings.Columns > 0 {
		l.para(w, 2, "", "The design is too small to be joined with this seam allowance.")
	}
	fmt.Fprintln(w, "\nThread and time are estimates; sew one block first and measure.")
}

// gatherCSV writes one table; cells that do not apply are empty.
func gatherCSV(w io.Writer, lists []*gather.Gathering) error {
	out := csv.NewWriter(w)
	out.Write([]string{"designs", "item", "what", "piece", "count", "metres", "width_mm", "height_mm", "length_mm", "minutes"})
	num := func(v float64) string { return plain(v) }
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
			row("to cut", c.Kind, piece(c.Piece), strconv.Itoa(c.Count), "", num(c.WidthMM), num(c.HeightMM), "", "")
		}
		for _, c := range g.Lengths {
			row("to buy", c.Kind, piece(c.Piece), strconv.Itoa(c.Count), "", num(g.Settings.ClothWidthMM), "", num(c.LengthMM), "")
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
