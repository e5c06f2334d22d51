package render

import (
	"fmt"
	"math"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/resize"
	"github.com/stopcard/stopcard/analyse/words"
)

type pageThread struct {
	Colour, Name, Stops, Length string
	Known                       bool
}

type pageFinding struct {
	ID, Number, Severity, Rule, Message, Advice string
	Stop                                        int
	Stops                                       []int
	Marked                                      bool
}

type pageCloth struct {
	Kind, Size string
	Stop       int
}

type pagePiece struct {
	Number                 int
	Stops, Cut, Cover, Gap string
	Bare                   bool
	Note                   string // the remark in the notes
}

type pageColumn struct {
	Stop                                     int
	Length, Width, Pitch, Coverage, Underlay string
}

// threads lists what to set out, a row for each thread in the order of use. Stops that any
// thread will do for come last, in a row without a colour.
func (p *pageDesign) threads(r *report.Report) {
	at := map[string]int{}
	var metres []float64
	var anyOf []int
	anyMetres := 0.0
	for i := range r.Stops {
		s := &r.Stops[i]
		if !s.Thread.HasColour() {
			p.NoColours = true
			continue
		}
		if s.AnyThread {
			anyOf = append(anyOf, s.Number)
			anyMetres += s.NeedleThreadM
			continue
		}
		text := stopThread(s)
		key := words.Hex(s.Thread.Colour) + text
		k, ok := at[key]
		if !ok {
			if len(p.Threads) >= mostRows {
				continue
			}
			k = len(p.Threads)
			at[key] = k
			p.Threads = append(p.Threads, pageThread{Colour: words.Hex(s.Thread.Colour), Name: text, Known: true})
			metres = append(metres, 0)
		} else {
			p.Threads[k].Stops += ", "
		}
		p.Threads[k].Stops += fmt.Sprint(s.Number)
		metres[k] += s.NeedleThreadM
	}
	for k, m := range metres {
		p.Threads[k].Length = unitsOf(r).Metres(m)
	}
	if anyOf != nil {
		p.AnyThread = true
		p.Threads = append(p.Threads, pageThread{Name: "any thread", Stops: numberRanges(anyOf), Length: unitsOf(r).Metres(anyMetres)})
	}
}

// findings puts the gravest first and numbers them all as the picture does.
func (p *pageDesign) findings(r *report.Report) {
	radius := int(math.Round(0.034 * 10 * max(r.WidthMM, r.HeightMM, 1)))
	n := 0
	for _, severity := range []report.Severity{report.Fault, report.Caution, report.Note} {
		for _, f := range r.Findings {
			if f.Severity != severity {
				continue
			}
			if n++; n > mostRows {
				p.FindingsLeft++
				continue
			}
			out := pageFinding{ID: p.ID, Number: fmt.Sprint(n), Severity: string(severity), Rule: safeText(f.Rule), Stop: f.Stop, Stops: f.Stops, Message: words.KeepFigures(safeLong(f.Message)), Advice: safeLong(f.Advice)}
			if len(f.Stops) > 1 {
				out.Message = words.KeepFigures(safeLong(words.Where(&f) + ": " + f.Message))
			}
			for _, at := range placesOf(&f) {
				if len(p.Marks) == mostMarks {
					break
				}
				out.Marked = true
				p.Marks = append(p.Marks, pageMark{
					Number: out.Number, Grave: out.Severity, R: radius, TextSize: radius * 5 / 4,
					X: int(math.Round(10 * at[0])), Y: int(math.Round(-10 * at[1])),
				})
			}
			if severity == report.Note {
				p.Notes = append(p.Notes, out)
			} else {
				p.Grave = append(p.Grave, out)
			}
		}
	}
	spreadMarks(p.Marks, 5*r.WidthMM*1.06, 5*r.HeightMM*1.06)
}

// coverReach tells how far a cover reaches past the tack-down.
func coverReach(m *report.MinMedian, u words.Units) string {
	if m.Median <= -report.ReachMM {
		return "none"
	}
	least := "none in places"
	if m.Min > -report.ReachMM {
		least = u.Stitch(m.Min) + " at least"
	}
	return least + ", " + u.Stitch(m.Median) + " usual"
}

func (p *pageDesign) pieces(r *report.Report) {
	u := unitsOf(r)
	for i, c := range r.Pieces {
		if i == mostRows {
			break
		}
		var stops []string
		for _, s := range []struct {
			name string
			stop int
		}{{"placement line", c.PlacementStop}, {"tack-down", c.TackDownStop}, {"cover", c.CoverStop}} {
			if s.stop > 0 {
				stops = append(stops, fmt.Sprintf("%s %d", s.name, s.stop))
			}
		}
		row := pagePiece{Number: c.Number, Stops: strings.Join(stops, ", ")}
		if c.CutSizeMM[0] > 0 {
			row.Cut = cutSize(u, c.CutSizeMM[0], c.CutSizeMM[1])
		}
		if c.CoverStop > 0 {
			row.Cover = coverReach(&c.OuterCoverMM, u)
		}
		row.Note = safeLong(c.Note)
		row.Gap = "none"
		if c.UncoveredMM > 0 {
			row.Gap, row.Bare = u.Stitch(c.UncoveredMM), true
		} else if c.CoverStop == 0 {
			row.Gap = "no cover found"
		}
		p.Pieces = append(p.Pieces, row)
	}
}

func (p *pageDesign) columns(r *report.Report) {
	u := unitsOf(r)
	for i, c := range r.SatinColumns {
		if i == 200 {
			p.ColumnsLeft = len(r.SatinColumns) - i
			break
		}
		var under []string
		for _, k := range c.Underlay {
			under = append(under, k.String())
		}
		row := pageColumn{
			Stop: c.Stop, Length: u.Stretch(c.LengthMM),
			Width:    u.Stitch(c.Width.Min) + " to " + u.Stitch(c.Width.Max),
			Pitch:    u.StitchTo(c.Pitch.Median, 2),
			Coverage: fmt.Sprintf("%.0f %%", 100*c.Coverage),
			Underlay: strings.Join(under, ", "),
		}
		p.Columns = append(p.Columns, row)
	}
}

// ResizeWords tells, a line for each, how far a design may be resized and what limits it;
// nil where the report does not say.
func ResizeWords(r *report.Report) []string {
	if r.Resize == nil {
		return nil
	}
	out := []string{resize.RangeWords(r.Resize)}
	for i := range r.Resize.Limits {
		if i == 20 {
			break
		}
		l := &r.Resize.Limits[i]
		text := safeLong(resize.LimitWords(l, unitsOf(r)))
		if !l.Already {
			text = resize.PercentWithin(l.Scale, l.Direction) + ": " + text
		}
		out = append(out, text)
	}
	if r.Resize.Recalculated != "" {
		out = append(out, r.Resize.Recalculated)
	}
	return out
}
