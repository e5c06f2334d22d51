package render

import (
	"fmt"
	"image/color"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// prepareSheets lay out what is looked at before the first stitch, and what the
// hands do in full.
func (c *card) prepareSheets() []func(canvas) {
	var blocks []block
	for _, list := range [][]block{c.findings(), c.cutList(), c.threadList(), c.remarks(), c.handSteps()} {
		blocks = append(blocks, list...)
	}
	// The picture gives way where its room saves a sheet.
	var columns [][]block
	var top func(sheet int) float64
	bottom := c.bottom()
	for _, c.headSide = range []float64{56, 38} {
		tops := [2]float64{c.edge + c.prepareHead(nil), c.edge + c.head(nil) + 1}
		top = func(sheet int) float64 { return tops[min(sheet, 1)] }
		columns = evenly(blocks, c.prepare, func(column int) float64 { return bottom - top(column/c.prepare) })
		if len(columns) <= c.prepare {
			break
		}
	}
	var sheets []func(canvas)
	for first := 0; first < len(columns); first += c.prepare {
		n := len(sheets)
		sheets = append(sheets, func(cv canvas) {
			if n == 0 {
				c.prepareHead(cv)
			} else {
				c.head(cv)
			}
			for k, column := range columns[first:min(first+c.prepare, len(columns))] {
				x, y := c.edge+float64(k)*(c.listWide+c.gap), top(n)
				for _, b := range column {
					b.draw(cv, x, y)
					y += b.height
				}
			}
		})
	}
	return sheets
}

// listW is the width of lists on sheets to prepare.
func (c *card) listW() float64 { return c.listWide - 1.5 }

// heading is a line over the blocks after it.
func (c *card) heading(text string) block {
	return block{height: headLetters.cap() + 4.2, keep: true, draw: func(cv canvas, x, y float64) {
		cv.write(headLetters, ink, x, y+headLetters.cap()+1.6, headLetters.most(1, text, c.listW())[0])
		ruleAcross(cv, x, y+headLetters.cap()+2.8, c.listW())
	}}
}

// gapAfter is air under a list.
func gapAfter() block {
	return block{height: 2.5, loose: true, draw: func(canvas, float64, float64) {}}
}

// item is a text in a list, with something drawn in front of it that is so wide.
// A very long one is several blocks.
func (c *card) item(l lettering, text string, indent float64, front func(cv canvas, x, y float64)) []block {
	const most = 8
	lines := l.wrap(text, c.listW()-indent)
	var out []block
	for first := 0; first < len(lines); first += most {
		part := lines[first:min(first+most, len(lines))]
		out = append(out, block{height: float64(len(part))*l.line() + 1.1, draw: func(cv canvas, x, y float64) {
			if first == 0 && front != nil {
				front(cv, x, y)
			}
			for i, line := range part {
				cv.write(l, ink, x+indent, y+float64(i+1)*l.line()-0.5, line)
			}
		}})
	}
	return out
}

// cutList tells what to cut before sewing, with a box to tick for each.
func (c *card) cutList() []block {
	if len(c.r.Cloths) == 0 {
		return nil
	}
	out := []block{c.heading("Cut before you begin")}
	for _, q := range c.r.Cloths {
		what := sentence(q.Kind)
		if q.Piece > 0 {
			what += fmt.Sprintf(" %d", q.Piece)
			if cloth := clothOf(c.r, []int{q.Piece}); cloth != "" {
				what += ", " + cloth
			}
		}
		text := fmt.Sprintf("%s: %s, for stop %d", what, unitsOf(c.r).Cut(q.WidthMM, q.HeightMM), q.Stop)
		out = append(out, c.item(textLetters, text, 5, tickBox)...)
	}
	return append(out, gapAfter())
}

func tickBox(cv canvas, x, y float64) { frameRect(cv, rect{x, y + 0.2, 3.4, 3.4}, 0.3, ink) }

// maxFindings bounds the findings on a card.
const maxFindings = 12

// findings lists what the checks found that must be looked at, the gravest first.
func (c *card) findings() []block {
	var out []block
	shown, more := 0, 0
	for _, severity := range []report.Severity{report.Fault, report.Caution} {
		for _, f := range c.r.Findings {
			if f.Severity != severity {
				continue
			}
			if shown == maxFindings {
				more++
				continue
			}
			if shown == 0 {
				out = append(out, c.heading("Look at this first"))
			}
			shown++
			word := "Warning"
			if severity == report.Fault {
				word = "FAULT"
			}
			where := words.Where(&f)
			if where != "" {
				where = ", " + where
			}
			text := word + where + ": " + sentence(safeLong(f.Message)) + "."
			if f.Advice != "" {
				text += " " + sentence(safeLong(f.Advice))
			}
			out = append(out, c.item(textLetters, text, 5.4, func(cv canvas, x, y float64) {
				c.drawGrave(cv, rect{x, y + 0.2, 4, 4}, severity)
			})...)
		}
	}
	if more > 0 {
		out = append(out, c.item(textLetters, fmt.Sprintf("The check found %d more.", more), 5.4, nil)...)
	}
	if out != nil {
		out = append(out, gapAfter())
	}
	return out
}

// threadList tells the threads to set out, each once. Stops that any thread will do for
// come last, with one for all.
func (c *card) threadList() []block {
	type thread struct {
		stop   *report.Stop
		stops  []int
		metres float64
	}
	type known struct {
		text   string
		named  bool // it has a colour
		colour color.RGBA
	}
	var all []*thread
	by := map[known]*thread{}
	anyOf := &thread{}
	for i := range c.r.Stops {
		s := &c.r.Stops[i]
		if s.AnyThread {
			anyOf.stops = append(anyOf.stops, s.Number)
			anyOf.metres += s.NeedleThreadM
			continue
		}
		k := known{text: threadText(s), named: s.Thread.HasColour()}
		if k.named {
			k.colour = s.Thread.Colour
		}
		at := by[k]
		if at == nil {
			at = &thread{stop: s}
			by[k], all = at, append(all, at)
		}
		at.stops = append(at.stops, s.Number)
		at.metres += s.NeedleThreadM
	}
	if anyOf.stops != nil {
		all = append(all, anyOf)
	}
	if len(all) == 0 {
		return nil
	}
	out := []block{c.heading("Threads to set out")}
	for _, t := range all {
		name := words.AnyThread
		if t.stop != nil {
			name = threadText(t.stop)
		}
		text := fmt.Sprintf("%s: %s, %s %s", sentence(name), unitsOf(c.r).Metres(t.metres), stopWord(t.stops), numberRanges(t.stops))
		out = append(out, c.item(textLetters, text, 9, func(cv canvas, x, y float64) {
			if t.stop != nil {
				c.drawSwatch(cv, rect{x, y + 0.1, 7.4, 3.6}, t.stop)
			}
		})...)
	}
	return append(out, gapAfter())
}

func stopWord(stops []int) string {
	if len(stops) == 1 {
		return "stop"
	}
	return "stops"
}

// handSteps tells what the hands do, with the stop it belongs to: in full, and by the first
// stop where it was told where it is long and the same again.
func (c *card) handSteps() []block {
	const long = 80 // letters: more than a line
	var out []block
	told := map[string]string{}
	tell := func(when string, steps []report.Step) {
		var texts []string
		var front sign
		for _, t := range steps {
			if t.Text == "" {
				continue
			}
			texts = append(texts, t.Text)
			// The sign is that of the work, which the hoop comes off for.
			if s := stepSigns[t.Kind]; s != nil && (front == nil || t.Kind == report.StepLay || t.Kind == report.StepTrim) {
				front = s
			}
		}
		if texts == nil {
			return
		}
		if len(out) == 0 {
			out = append(out, c.heading("What the hands do"))
		}
		text := strings.Join(texts, "; ")
		if first := told[text]; first != "" {
			text = "the same as " + first
		} else if len(text) > long {
			told[text] = strings.ToLower(when)
		}
		out = append(out, c.item(textLetters, when+": "+text, 5.4, func(cv canvas, x, y float64) {
			if front != nil {
				drawSign(cv, x, y+0.1, 4, c.act, front)
			}
		})...)
	}
	for i := range c.r.Stops {
		s := &c.r.Stops[i]
		tell(fmt.Sprintf("Before %d", s.Number), stepsOr(s.BeforeSteps, s.Before))
		tell(fmt.Sprintf("After %d", s.Number), stepsOr(s.AfterSteps, s.After))
	}
	return out
}

// threadText names a stop's thread.
func threadText(s *report.Stop) string {
	if text := safeLong(s.ThreadText()); text != "" {
		return text
	}
	return "your choice: no colour in file"
}
