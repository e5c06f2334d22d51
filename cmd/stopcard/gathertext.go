package main

import (
	"fmt"
	"io"
	"math"

	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

// gathering writes the list for people.
func (l layout) gathering(w io.Writer, g *gather.Gathering, s report.Settings) {
	var of []string
	blocks := 0
	for i, p := range g.Designs {
		blocks += g.Counts[i]
		of = append(of, fmt.Sprintf("%s of %s", words.Count(g.Counts[i], "block"), printable(p)))
	}
	l.para(w, 0, "", fmt.Sprintf("For %s:", words.List(of)))
	if len(of) > 1 {
		fmt.Fprintf(w, "  %s in all\n", words.Count(blocks, "block"))
	}

	fmt.Fprintln(w)
	l.para(w, 0, "", fmt.Sprintf("Thread, with %s %% in reserve on spools of %s; bobbins of %s", settingsfile.Plain(g.Settings.Reserve*100), l.units.Metres(g.Settings.SpoolM), l.units.Metres(s.BobbinM)))
	for _, t := range g.Threads {
		name := printable(t.Name)
		if t.Colour != nil {
			name += " " + *t.Colour
		}
		spools := words.Count(t.Spools, "spool")
		if t.Spools == 0 && (t.AnyThread || t.Own != "") {
			spools = "at hand"
		}
		fmt.Fprintf(w, "  %s %22s  %s\n", pad(clip(name, l.width-41), l.width-40), l.units.Metres(t.Metres), spools)
	}
	if len(g.Threads) > 1 {
		// In each unit the figures that are shown add up.
		var metres, yards float64
		spools := 0
		for _, t := range g.Threads {
			metres, yards, spools = metres+shown(t.Metres), yards+shown(t.Metres/0.9144), spools+t.Spools
		}
		all := l.units.Pick(fmt.Sprintf("%.1f m", metres), fmt.Sprintf("%.1f yd", yards))
		fmt.Fprintf(w, "  %s %22s  %s\n", pad("needle thread in all", l.width-40), all, words.Count(spools, "spool"))
	}
	fmt.Fprintf(w, "  %s %22s  %s\n", pad("bobbin thread", l.width-40), l.units.Metres(g.BobbinThreadM), words.Count(g.Bobbins, "bobbin"))

	l.toBuy(w, g, s)

	fmt.Fprintf(w, "\nTo cut\n")
	last := ""
	for _, c := range g.Cloths {
		what := c.Kind
		if c.Piece > 0 {
			what += fmt.Sprintf(", piece %d", c.Piece)
		}
		if len(g.Designs) > 1 && c.Design != last {
			last = c.Design
			fmt.Fprintf(w, "  %s:\n", clip(printable(stem(c.Design)), l.width-4))
		}
		fmt.Fprintf(w, "  %s %4d of %s\n", pad(what, 26), c.Count, l.units.Cut(c.WidthMM, c.HeightMM))
		if c.Cloth != "" {
			l.para(w, 4, "", "from "+printable(c.Cloth))
		}
	}
	if s.HoopWidthMM <= 0 {
		l.para(w, 2, "", "No hoop is given (--hoop), so the stabiliser is sized by the design: cut it to be held by your hoop all round.")
	}

	fmt.Fprintf(w, "\nCloth to buy, %s wide\n", l.units.Length(g.Settings.ClothWidthMM))
	for _, c := range g.Lengths {
		what := c.Kind
		if c.Cloth != "" {
			what = clip(printable(c.Cloth), 36)
		} else if c.Piece > 0 {
			what += fmt.Sprintf(", piece %d alone", c.Piece)
			if len(g.Designs) > 1 {
				what = fmt.Sprintf("%s, piece %d alone", clip(printable(stem(c.Design)), 18), c.Piece)
			}
		} else if c.Kind == "applique cloth" {
			what += ", all from one cloth"
		}
		fmt.Fprintf(w, "  %s %4d from %s\n", pad(what, 36), c.Count, l.cloth(c.LengthMM, c.Eighths))
		if c.TooWide > 0 {
			l.para(w, 4, "", fmt.Sprintf("of these, %d are too large for this cloth: piece it or take a wider one", c.TooWide))
		}
	}

	l.times(w, g)
	if j := g.Joined; j != nil {
		fmt.Fprintf(w, "\nJoined %d x %d with a seam allowance of %s\n", g.Settings.Columns, g.Settings.Rows, l.units.Length(g.Settings.SeamMM))
		for _, row := range []struct {
			what string
			size [2]float64
		}{{"a block, trimmed outside its seam", j.BlockMM}, {"of it shows, seam on its outline", j.FinishedMM}, {"all that shows", j.InsideMM}, {"with the outer seam allowance", j.RawMM}} {
			fmt.Fprintf(w, "  %s %s\n", pad(row.what, 41), l.units.Size(row.size[0], row.size[1]))
		}
		if blocks != j.Blocks {
			l.para(w, 2, "", fmt.Sprintf("This takes %s; the list above is for %d.", words.Count(j.Blocks, "block"), blocks))
		}
		for _, p := range j.Unlike {
			l.para(w, 2, "", fmt.Sprintf("%s is of another size: its blocks do not fit the others.", printable(p)))
		}
	} else if g.Settings.Columns > 0 {
		l.para(w, 2, "", "The design is too small to be joined with this seam allowance.")
	}
	fmt.Fprintln(w, "\nThread and time are estimates; sew one block first and measure.")
}

// shown rounds a length of thread as it is shown, so that what is shown adds up.
func shown(length float64) float64 { return math.Round(10*length) / 10 }

// cloth writes a length of cloth to buy, in eighths of a yard for those who think in yards.
func (l layout) cloth(mm float64, eighths int) string {
	return l.units.Pick(settingsfile.Plain(math.Ceil(mm))+" mm", words.Yards(eighths))
}

// times writes how long it takes, in sittings that add up to the whole, and the order of
// work.
func (l layout) times(w io.Writer, g *gather.Gathering) {
	all := 0.0
	for _, t := range g.Sittings {
		all += math.Round(t.Minutes)
	}
	fmt.Fprintln(w)
	parts := " with hand work and hooping"
	if g.Machine >= 0.5 {
		parts = fmt.Sprintf(": machine %s, hands and hooping %s", words.TimeWords(g.Machine), words.TimeWords(all-math.Round(g.Machine)))
	}
	l.para(w, 0, "", fmt.Sprintf("Time: %s%s, in %s of up to %s", words.AboutTime(all), parts, words.Count(len(g.Sittings), "sitting"), words.TimeWords(g.Settings.SittingMinutes)))
	const most = 12
	rest := 0.0
	for i, t := range g.Sittings {
		if i >= most {
			rest += math.Round(t.Minutes)
			continue
		}
		from, to := "", ""
		if len(g.Designs) > 1 {
			from = clip(printable(stem(t.Design)), 16) + " "
			if t.ToDesign != t.Design {
				to = clip(printable(stem(t.ToDesign)), 16) + " "
			}
		}
		what := fmt.Sprintf("block %d, stop %d to %sblock %d, stop %d", t.FromBlock, t.FromStop, to, t.ToBlock, t.ToStop)
		if t.Design == t.ToDesign && t.FromBlock == t.ToBlock {
			if what = fmt.Sprintf("block %d, stops %d to %d", t.FromBlock, t.FromStop, t.ToStop); t.FromStop == t.ToStop {
				what = fmt.Sprintf("block %d, stop %d", t.FromBlock, t.FromStop)
			}
		}
		fmt.Fprintf(w, "  %2d: %s%s, %s\n", i+1, from, what, words.TimeWords(t.Minutes))
	}
	if n := len(g.Sittings) - most; n > 0 {
		fmt.Fprintf(w, "  and %d more, %s\n", n, words.TimeWords(rest))
	}
	fmt.Fprintf(w, "  of this %s of hooping: %s a block\n", words.TimeWords(g.Settings.HoopingMinutes*float64(sum(g.Counts))), words.TimeWords(g.Settings.HoopingMinutes))

	o := g.Order
	fmt.Fprintf(w, "\nOrder of work: %s\n", words.Plural(o.ThreadChanges, "change of thread", "changes of thread"))
	if len(o.Designs) > 1 {
		var names []string
		for _, d := range o.Designs {
			names = append(names, printable(stem(g.Designs[d])))
		}
		l.para(w, 2, "", "First to last: "+words.List(names)+".")
	}
	switch {
	case o.Hoops > 1:
		l.para(w, 2, "", fmt.Sprintf("With %d hoops in turn: sew each thread in one hoop after the other, then put in the next thread and go back. %d changes of thread in place of %d, for %s of one hoop for another.",
			o.Hoops, o.ThreadChanges, o.OneByOne, words.Count(o.HoopSwaps, "swap")))
		if o.SavedMinutes > 0 {
			l.para(w, 2, "", fmt.Sprintf("That saves about %s.", words.TimeWords(o.SavedMinutes)))
		} else {
			l.para(w, 2, "", "That saves no time: sew block by block.")
		}
	case o.ThreadChanges < o.OneByOne:
		l.para(w, 2, "", fmt.Sprintf("Block by block as named it would be %d.", o.OneByOne))
	case sum(g.Counts) > 1:
		l.para(w, 2, "", "With several hoops of one size (--hoops) threads are changed less often.")
	}
}

func sum(counts []int) int {
	n := 0
	for _, c := range counts {
		n += c
	}
	return n
}
