package render

import (
	"fmt"
	"image"
	"image/color"
	"strings"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// rowLine is one line of the words of a row: a small lead and a text.
type rowLine struct {
	lead    string
	letters lettering
	ink     color.RGBA
	text    string
	drop    float64 // from the line above, or the row's top, to this one's baseline
}

func (l rowLine) width() float64 {
	w := l.letters.width(l.text)
	if l.lead != "" {
		w += roleLetters.width(l.lead + " ")
	}
	return w
}

// least is the least height of a row: its words, and never less than rowLeast.
func (w *cardRow) least() float64 { return max(rowLeast, w.need()) }

// need is the height that a row's words take.
func (w *cardRow) need() float64 {
	h := 1.3
	for _, l := range w.lines {
		h += l.drop
	}
	return h
}

// mostLines are the most for one text of a row. Words without end would push the rows off
// the sheet; the sheets to prepare tell all of them.
const mostLines = 3

// wordRow words a row: the thread's colour, what the stop is, and what the hands
// do before and after it.
func (c *card) wordRow(w *cardRow) {
	s := w.first()
	colour := -1 // the first line after the colour word
	add := func(l rowLine, text string, first, more float64) {
		width := c.textW
		if len(w.lines) == 0 && len(w.stops) > 1 {
			width -= tickSide + 1 // the tick box stands beside it
		}
		if l.lead != "" {
			width -= roleLetters.width(l.lead + " ")
		}
		for i, line := range l.letters.most(mostLines, text, width) {
			l.text, l.drop = line, first
			if len(w.lines) == colour {
				l.drop = 4.0 // clear of the colour word's tails
			}
			if i > 0 {
				l.lead, l.drop = "", more
			}
			w.lines = append(w.lines, l)
		}
	}
	role, work := sentence(words.Role(c.r, s)), partsText(c.r, s)
	if strings.HasPrefix(work, words.Role(c.r, s)) {
		role = "" // the parts begin with it
	}
	if len(w.stops) > 1 {
		role, work = sentence(words.Role(c.r, s)), w.which()
	}
	if name := colourWord(s); name != "" {
		add(rowLine{letters: colourLetters, ink: ink}, name, 5.8, 6.6)
	} else {
		add(rowLine{letters: colourLetters, ink: ink}, words.Role(c.r, s), 5.8, 6.6)
		role = ""
	}
	colour = len(w.lines)
	var parts []string
	for _, text := range []string{role, work} {
		if text != "" {
			parts = append(parts, text)
		}
	}
	told := strings.Join(parts, ", ")
	if s.AnyThread {
		if told != "" {
			told += "; "
		}
		told += "any thread"
	}
	told = sentence(told)
	minutes := words.TimeWords(max(1, w.minutes)) // nobody looks away for less
	if len(w.stops) > 1 {
		minutes += " each"
	}
	hands := ""
	if w.nextAt > 0 && w.after == "" {
		hands = fmt.Sprintf("hands in %s, at %d", words.TimeWords(w.next), w.nextAt)
	} else if w.nextAt == 0 {
		hands = fmt.Sprintf("%s to the end", words.TimeWords(w.next))
	}
	l := rowLine{letters: roleLetters, ink: ink}
	if one := told + ", " + minutes; told != "" && hands == "" && roleLetters.width(one) <= c.textW {
		add(l, one, 4.0, 3.2)
	} else {
		add(l, told, 4.0, 3.2)
		if hands != "" {
			minutes += "; " + hands
		}
		add(l, minutes, 3.3, 3.2)
	}
	if s.Spool != nil {
		add(l, safeText(s.Spool.Text()), 3.3, 3.2)
	}
	if s.Note != "" {
		add(rowLine{letters: roleBold, ink: ink}, safeLong(s.Note), 3.5, 3.2)
	}
	verb := rowLine{letters: verbLetters, ink: c.act}
	lead := func(word, text string) {
		verb.lead = word
		add(verb, text, 4.5, 4.2)
	}
	lead("first", w.before)
	lead("then", w.after)
	if w.end {
		lead("or", "END here")
	}
	// Steps whose kind is not known are told as they are.
	for _, list := range [][]report.Step{stepsOr(s.BeforeSteps, s.Before), stepsOr(w.last().AfterSteps, w.last().After)} {
		for _, t := range list {
			if t.Kind == report.StepNote {
				l := rowLine{letters: roleBold, ink: c.act}
				add(l, t.Text, 3.6, 3.2)
			}
		}
	}
}

// colourWord is what the thread of a stop is called, empty where nobody knows.
func colourWord(s *report.Stop) string {
	switch {
	case s.ThreadNoted:
		return safeText(s.ThreadName)
	case s.ColourName != nil:
		return *s.ColourName
	}
	return ""
}

// drawRow draws a row into its frame.
func (c *card) drawRow(cv canvas, at rect, w *cardRow, picture *image.RGBA, side float64) {
	busy := w.before != "" || w.after != "" || w.end
	if busy {
		fillRect(cv, at, c.ground)
		frameRect(cv, at, 0.7, c.act)
		fillRect(cv, rect{at.x, at.y, 1.3, at.h}, c.act)
	} else {
		frameRect(cv, at, 0.25, rule)
	}
	c.drawNumber(cv, at, w)
	x := at.x + c.numberW + 0.6
	c.drawSwatch(cv, rect{x, at.y + 0.9, swatchW, at.h - 1.8}, w.first())
	x += swatchW + colAir
	pic := rect{x, at.y + (at.h-side)/2, side, side}
	cv.picture(pic, picture)
	if c.pictures.under(w.first()) != nil {
		plate := rect{pic.x, pic.bottom() - plateHigh, pic.w, plateHigh}
		fillRect(cv, plate, white)
		frameRect(cv, plate, 0.2, rule)
		text := "underside"
		cv.write(roleBold, ink, pic.x+(pic.w-roleBold.width(text))/2, pic.bottom()-0.9, text)
	}
	frameRect(cv, pic, 0.2, rule)
	x += side + colAir
	// Room that the words leave stands above them and below, two to three.
	y := at.y + max(0, at.h+rowGap-w.need())*0.4
	for _, l := range w.lines {
		y += l.drop
		left := x
		if l.lead != "" {
			cv.write(roleLetters, l.ink, left, y, l.lead)
			left += roleLetters.width(l.lead + " ")
		}
		cv.write(l.letters, l.ink, left, y, l.text)
	}
}

// drawNumber writes the number, and below it the box to tick and what was found.
func (c *card) drawNumber(cv canvas, at rect, w *cardRow) {
	numbers := w.numbers()
	room := c.numberW - 1.4
	left := at.x + 1.4
	centre := func(text string, top float64) {
		l := numberLetters.within(text, room)
		cv.write(l, ink, left+(room-l.width(text))/2, top+numberLetters.cap()*1.02, text)
	}
	tick := rect{left + 0.9, at.bottom() - tickSide - 1.1, tickSide, tickSide}
	sign := rect{tick.right() + 0.7, tick.y + 0.4, 5.6, 5.6}
	centre(numbers[0], at.y+1)
	if len(numbers) > 1 {
		top := at.bottom() - 1 - numberLetters.cap()
		centre(numbers[1], top)
		x := left + room/2
		if between := top - (at.y + 1 + numberLetters.cap()); between > 1.6 {
			cv.line(ink, 0.5, geom.Point{X: x, Y: at.y + 1.4 + numberLetters.cap()}, geom.Point{X: x, Y: top - 0.4})
		}
		tick = rect{at.right() - tickSide - 1.1, at.y + 1.1, tickSide, tickSide}
		sign = rect{tick.x + 0.7, tick.bottom() + 0.8, 5.6, 5.6}
	}
	fillRect(cv, tick, white)
	frameRect(cv, tick, 0.5, ink)
	c.drawGrave(cv, sign, w.grave)
}

// drawGrave draws the sign of a severity: their shapes tell them apart without
// colour.
func (c *card) drawGrave(cv canvas, at rect, s report.Severity) {
	switch s {
	case report.Fault:
		drawSign(cv, at.x, at.y, at.w, c.alarm, signFault)
	case report.Caution:
		drawSign(cv, at.x, at.y, at.w, c.alarm, signWarning)
	}
}

// drawSwatch shows a thread's colour, or the hatching that stands for it. Without
// a colour in the file it is left empty, to be filled in.
func (c *card) drawSwatch(cv canvas, r rect, s *report.Stop) {
	fillRect(cv, r, white)
	if s.Thread.HasColour() {
		if c.o.Ink {
			cv.picture(r, c.hatching(r, s.Thread.Colour))
		} else {
			fillRect(cv, r, s.Thread.Colour)
		}
	}
	frameRect(cv, r, 0.35, ink)
}

// hatchFor gives a thread the next hatching, if it has none.
func (c *card) hatchFor(s *report.Stop) {
	if _, ok := c.patterns[s.Thread.Colour]; !ok && s.Thread.HasColour() {
		c.patterns[s.Thread.Colour] = len(c.patterns)
	}
}

// hatching is the pattern that stands for a colour: the same each time it comes
// back.
func (c *card) hatching(r rect, colour color.RGBA) *image.RGBA {
	px := func(mm float64) int { return int(mm / 25.4 * CardDPI) }
	img := image.NewRGBA(image.Rect(0, 0, px(r.w), px(r.h)))
	box(img, img.Rect, white)
	hatch(img, img.Rect, c.patterns[colour], px(0.2), ink)
	return img
}
