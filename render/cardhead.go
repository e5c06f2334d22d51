package render

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

const cautions = "Keep hands clear while the needle moves. Stop the machine and take the hoop off it before scissors come near; leave the cloth in the hoop. Stop if the machine labours: dense stitching breaks needles. The machine's manual comes first."

const shortCautions = "Hands clear of the needle. Hoop off before scissors come near. The machine's manual comes first."

// What the minutes on the rows are: of a design with work at the hoop, and of one without.
const (
	cardKey      = "Minutes: until the stop is sewn. \"Hands in\": until cloth, scissors or hoop need you."
	cardKeyPlain = "Minutes: until the stop is sewn. \"To the end\": with the changes of thread."
)

// footLine is from one line of the foot to the next, in mm.
const footLine = 3.1

// bottom is where the rows and lists end.
func (c *card) bottom() float64 {
	return c.o.Paper.HeightMM - c.edge - float64(len(c.footLines(true)))*footLine - 0.8
}

// footLines are the short cautions, and on sheets to do the key, beside the page
// number.
func (c *card) footLines(todo bool) []string {
	text := shortCautions
	if todo {
		key := cardKey
		if len(c.r.Stops) > 0 {
			if _, at := nextHands(c.r, &c.r.Stops[0]); at == 0 {
				key = cardKeyPlain
			}
		}
		text += " " + key
	}
	return smallLetters.wrap(text, c.o.Paper.WidthMM-2*c.edge-smallLetters.width("page 00 of 00")-4)
}

func (c *card) foot(cv canvas, todo bool, number, pages int) {
	y := c.o.Paper.HeightMM - c.edge - 0.4
	mark := fmt.Sprintf("page %d of %d", number, pages)
	cv.write(smallLetters, quiet, c.o.Paper.WidthMM-c.edge-smallLetters.width(mark), y, mark)
	lines := c.footLines(todo)
	for i, line := range lines {
		cv.write(smallLetters, quiet, c.edge, y-float64(len(lines)-1-i)*footLine, line)
	}
}

// head names the design at the top of a sheet, and gives its height. Without a
// canvas it only measures.
func (c *card) head(cv canvas) float64 {
	h := 4.6 + 5.2*float64(len(c.title)-1)
	right := c.o.Paper.WidthMM - c.edge
	if cv != nil {
		for i, line := range c.title {
			cv.write(titleLetters, ink, c.edge, c.edge+4.2+5.2*float64(i), line)
		}
	}
	facts := []string{unitsOf(c.r).One().Size(c.r.WidthMM, c.r.HeightMM) + ", " + words.Count(c.r.ColourStops, "stop")}
	// Sizes and formats of one design carry one name.
	if file := fileOf(c.r); file != "" {
		facts = append(facts, roleLetters.most(1, file, (right-c.edge)*0.3)...)
	}
	h = max(h, 3.6*float64(len(facts)))
	if cv != nil {
		for i, text := range facts {
			cv.write(roleLetters, ink, right-roleLetters.width(text), c.edge+2.6+3.6*float64(i), text)
		}
	}
	return h + 1.4
}

// todoHead heads a sheet to do, which hangs by the machine alone: where the design is not
// all there, it says so too.
func (c *card) todoHead(cv canvas) float64 {
	h := c.head(cv)
	text := safeLong(partly(c.r))
	if text == "" {
		return h
	}
	const pad, sign = 1.4, 7.0
	y := c.edge + h
	width := c.o.Paper.WidthMM - 2*c.edge
	lines := headLetters.wrap(text, width-sign-3*pad)
	high := max(float64(len(lines))*headLetters.line(), sign) + 2*pad
	if cv != nil {
		frameRect(cv, rect{c.edge, y, width, high}, 0.6, c.alarm)
		drawSign(cv, c.edge+pad, y+(high-sign)/2, sign, c.alarm, signWarning)
		top := y + (high-float64(len(lines))*headLetters.line())/2
		for i, line := range lines {
			cv.write(headLetters, ink, c.edge+2*pad+sign, top+float64(i+1)*headLetters.line()-1.1, line)
		}
	}
	return h + high + 1.6
}

// partly says over what is to be done that the design is not all there; empty where it is.
func partly(r *report.Report) string {
	part := r.Partial()
	switch {
	case part == "":
		return ""
	case r.Damage != nil:
		return "DO NOT SEW: " + part + "."
	}
	return "Look at the picture before you sew: " + part + "."
}

// facts are the figures of the sheet to prepare, a line each.
func (c *card) facts() []string {
	r := c.r
	if r.Stitches == 0 {
		return []string{"There are no stitches in this file: nothing to sew."}
	}
	u := unitsOf(r)
	facts := []string{
		u.Size(r.WidthMM, r.HeightMM),
		u.HoopFor(r.WidthMM, r.HeightMM),
		words.Count(r.ColourStops, "colour stop") + ", " + words.Count(r.Stitches, "stitch") + ", " + words.Count(r.Trims, "trim"),
		words.TimeOfBoth(r),
		"needle thread " + u.Metres(r.NeedleThreadM) + ", bobbin thread " + u.Metres(r.BobbinThreadM),
	}
	if n := math.Ceil(r.Bobbins); n >= 1 {
		facts[len(facts)-1] += ", " + words.Count(int(n), "bobbin")
	}
	if r.Whole == string(stitchfile.CannotTell) {
		facts = append(facts, r.Format+" files do not tell whether they are whole: is all of the design in the picture?")
	}
	return facts
}

// prepareHead heads the first sheet to prepare: figures, the whole design, and the
// usual cautions.
func (c *card) prepareHead(cv canvas) float64 {
	y := c.edge + c.head(cv) + 1
	right := c.o.Paper.WidthMM - c.edge
	side := min(c.headSide, (right-c.edge)*0.34)
	width := right - side - 4 - c.edge
	at := y
	for _, fact := range c.facts() {
		for _, line := range textLetters.wrap(fact, width) {
			at += textLetters.line()
			if cv != nil {
				cv.write(textLetters, ink, c.edge, at, line)
			}
		}
	}
	if cv != nil {
		pic := rect{right - side, y, side, side}
		cv.picture(pic, c.headPicture(int(side/25.4*c.dpi)))
		frameRect(cv, pic, 0.2, rule)
	}
	y = max(at+2, y+side) + 2

	const pad, sign = 1.6, 7.0
	lines := textLetters.wrap(cautions, right-c.edge-sign-3*pad)
	high := max(float64(len(lines))*textLetters.line(), sign) + 2*pad
	if cv != nil {
		frameRect(cv, rect{c.edge, y, right - c.edge, high}, 0.4, ink)
		drawSign(cv, c.edge+pad, y+(high-sign)/2, sign, c.alarm, signWarning)
		top := y + (high-float64(len(lines))*textLetters.line())/2
		for i, line := range lines {
			cv.write(textLetters, ink, c.edge+2*pad+sign, top+float64(i+1)*textLetters.line()-1, line)
		}
	}
	return y + high + 2 - c.edge
}

// headPicture is the whole design, in greys without colour.
func (c *card) headPicture(side int) *image.RGBA {
	o := ThreadOptions{Width: side, Height: side, Context: c.o.Context}
	if name, _ := groundFor(c.r); c.o.Ink && name == "cloth" {
		o.Ground = white
	}
	img := Thread(c.d, c.r, o)
	if img == nil {
		return image.NewRGBA(image.Rect(0, 0, 1, 1)) // on a sheet that is not given out
	}
	if c.o.Ink {
		for i := 0; i+3 < len(img.Pix); i += 4 {
			g := color.GrayModel.Convert(color.RGBA{img.Pix[i], img.Pix[i+1], img.Pix[i+2], 255}).(color.Gray).Y
			img.Pix[i], img.Pix[i+1], img.Pix[i+2] = g, g, g
		}
	}
	return img
}

// ruleAcross draws a line across a column.
func ruleAcross(cv canvas, x, y, w float64) {
	cv.line(ink, 0.35, geom.Point{X: x, Y: y}, geom.Point{X: x + w, Y: y})
}
