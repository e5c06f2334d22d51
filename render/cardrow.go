package render

import (
	"fmt"
	"image"
	"image/color"
	"unicode"
	"unicode/utf8"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// rowLine is one line of the text of a row.
type rowLine struct {
	pen    pen
	text   string
	sign   sign
	swatch bool
	indent int
	space  int // above it
}

// row lays out one colour stop. It is one block, or several for a row longer
// than a page: no hand step may be lost.
func (c *card) row(s *report.Stop) []block {
	var out []block
	if text, ok := mayEnd(s); ok {
		out = append(out, c.endLine(text))
	}
	lines := c.rowLines(s)
	room := c.bottom() - c.edge - c.laterHead(nil) - px(8)
	least := px(1.5) + c.picture
	if c.narrow {
		least = max(least, c.figures[0].line+c.tick)
	}
	for first := 0; first < len(lines) || first == 0; {
		last, high := first, px(1)
		for last < len(lines) && (high+lines[last].high() <= room || last == first) {
			high += lines[last].high()
			last++
		}
		part, begins, ends := lines[first:last], first == 0, last == len(lines)
		b := block{height: high + px(3), row: begins}
		if begins {
			b.height = max(b.height, least+px(2.5))
		}
		b.draw = func(page *image.RGBA, x, y int) {
			c.drawRow(page, x, y, b.height, s, part, begins, ends)
		}
		out = append(out, b)
		if first = last; len(lines) == 0 {
			break
		}
	}
	return out
}

func (l rowLine) high() int { return l.space + l.pen.line }

// textAt is where the text of a row begins, from the left of its column, and how
// wide it is.
func (c *card) textAt() (x, width int) {
	x = c.number + c.picture + px(3.5)
	width = c.colW - x
	if !c.narrow {
		width -= c.tick + px(3)
	}
	return x, width
}

// rowLines words a row in the order in which things are done.
func (c *card) rowLines(s *report.Stop) []rowLine {
	_, width := c.textAt()
	var out []rowLine
	add := func(l rowLine, text string) {
		for i, line := range l.pen.wrap(text, width-l.indent) {
			if i > 0 {
				l.sign, l.swatch, l.space = nil, false, 0
			}
			l.text = line
			out = append(out, l)
		}
	}
	add(rowLine{pen: c.role}, s.Role)
	add(rowLine{pen: c.plain}, partsText(c.r, s))
	add(rowLine{pen: c.plain, swatch: true, indent: px(8)}, threadText(s))

	steps := func(word string, steps []report.Step) {
		first := true
		for _, t := range steps {
			if t.Kind == report.StepMayEnd {
				continue
			}
			l := rowLine{pen: c.plain.in(c.act), sign: stepSigns[t.Kind], indent: px(6), space: px(0.6)}
			text := t.Text
			if first {
				text = word + text
				l.space = px(1)
			}
			add(l, text)
			first = false
		}
	}
	steps("Before: ", stepsOr(s.BeforeSteps, s.Before))
	add(rowLine{pen: c.small, space: px(0.8)}, fmt.Sprintf("Sew: %s, %s", count(s.Stitches, "stitch"), words.AboutTime(s.Minutes)))
	steps("After: ", stepsOr(s.AfterSteps, s.After))
	for _, f := range c.r.Findings {
		if f.Stop == s.Number && f.Severity.AtLeast(report.Caution) {
			add(rowLine{pen: c.plain.in(c.alarm), sign: signWarning, indent: px(6), space: px(0.6)}, f.Message)
		}
	}
	return out
}

// stepsOr gives the steps, or the plain texts where their kinds are not known.
func stepsOr(steps []report.Step, texts []string) []report.Step {
	if len(steps) > 0 {
		return steps
	}
	for _, t := range texts {
		steps = append(steps, report.Step{Text: t})
	}
	return steps
}

// threadText names a stop's thread as the file does.
func threadText(s *report.Stop) string {
	if s.ColourName == nil {
		return "your choice: no colour in file"
	}
	text := *s.ColourName
	if n := s.Thread.Name; n != "" && n != text && n != *s.ColourName {
		text += " (" + n + ")"
	}
	if s.Thread.Catalogue != "" {
		text += ", no. " + s.Thread.Catalogue
	}
	return text
}

// drawRow draws a row or a part of one.
func (c *card) drawRow(page *image.RGBA, x, y, high int, s *report.Stop, lines []rowLine, begins, ends bool) {
	number := fmt.Sprint(s.Number)
	if begins {
		c.drawNumber(page, x, y, number)
		at := image.Rect(x+c.number, y+px(1.5), x+c.number+c.picture, y+px(1.5)+c.picture)
		c.pictures.draw(page, at, s)
		frame(page, at, 2, rule)
		tick := image.Rect(x+c.colW-c.tick, y+px(2.5), x+c.colW, y+px(2.5)+c.tick)
		if c.narrow {
			left := x + (c.number-px(3)-c.tick)/2
			top := y + c.figures[0].line + px(1)
			tick = image.Rect(left, top, left+c.tick, top+c.tick)
		}
		frame(page, tick, 5, ink)
	} else {
		p := c.bold.on(page)
		p.write(x, y+p.line, p.fit(number+", more:", c.number+c.picture))
	}
	dx, _ := c.textAt()
	at := y + px(1)
	for _, l := range lines {
		at += l.high()
		base := at - l.pen.line/4
		left := x + dx
		if l.sign != nil {
			side := min(l.pen.line*19/20, px(4.6))
			drawSign(page, left, base-side*4/5, side, l.pen.ink, l.sign)
		}
		if l.swatch {
			c.drawSwatch(page, image.Rect(left, base-l.pen.line*13/20, left+px(6), base+l.pen.line/6), s)
		}
		l.pen.on(page).write(left+l.indent, base, l.text)
	}
	if ends {
		box(page, image.Rect(x, y+high-px(0.6), x+c.colW, y+high-px(0.6)+2), rule)
	}
}

// drawNumber writes a stop's number as large as its column allows.
func (c *card) drawNumber(page *image.RGBA, x, y int, number string) {
	room := c.number - px(3)
	for i, p := range c.figures {
		if w := p.width(number); w <= room || i == len(c.figures)-1 {
			p.on(page).write(x+max(0, (room-w)/2), y+c.figures[0].line*17/20, p.fit(number, room))
			return
		}
	}
}

// drawSwatch shows a thread's colour, or the hatching that stands for it.
func (c *card) drawSwatch(page *image.RGBA, r image.Rectangle, s *report.Stop) {
	if s.Thread.HasColour() {
		if c.o.Ink {
			hatch(page, r, c.pattern(s.Thread.Colour), px(0.17), ink)
		} else {
			box(page, r, s.Thread.Colour)
		}
	}
	frame(page, r, 3, ink)
}

// pattern is the hatching of a colour: the same each time it comes back.
func (c *card) pattern(colour color.RGBA) int {
	n, ok := c.patterns[colour]
	if !ok {
		n = len(c.patterns)
		c.patterns[colour] = n
	}
	return n
}

// mayEnd finds the step before a stop that says the block may end there.
func mayEnd(s *report.Stop) (string, bool) {
	for _, t := range s.BeforeSteps {
		if t.Kind == report.StepMayEnd {
			return t.Text, true
		}
	}
	return "", false
}

// endLine is the line across the card at which the block may end.
func (c *card) endLine(text string) block {
	side := c.bold.line * 5 / 4
	lines := c.bold.wrap(sentence(text), c.colW-side*3)
	wide := 0
	for _, l := range lines {
		wide = max(wide, c.bold.width(l))
	}
	// The line runs to both sides of its words, or over them where they leave
	// no room.
	above := 0
	if wide > c.colW*7/10 {
		above = px(2.5)
	}
	words := max(len(lines)*c.bold.line, side)
	high := above + words + px(4)
	return block{height: high, keep: true, draw: func(page *image.RGBA, x, y int) {
		mid := y + above + px(2) + words/2
		left := x + (c.colW-wide-side*3/2)/2
		at := mid
		if above > 0 {
			at = y + px(2)
		}
		for dash := x; dash < x+c.colW; dash += px(4) {
			if above > 0 || dash+px(2.4) < left-px(1) || dash > left+side*3/2+wide+px(1) {
				box(page, image.Rect(dash, at-4, min(dash+px(2.4), x+c.colW), at+4), c.act)
			}
		}
		drawSign(page, left, mid-side/2, side, c.act, signFlag)
		p := c.bold.in(c.act).on(page)
		top := mid - len(lines)*p.line/2
		for i, l := range lines {
			p.write(left+side*3/2, top+(i+1)*p.line-p.line/4, l)
		}
	}}
}

// sentence gives a text its capital.
func sentence(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[n:]
}
