package render

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"
	"strings"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

const cautions = "Keep hands clear while the needle moves. Stop the machine and take the hoop off it before scissors come near; leave the cloth in the hoop. Stop if the machine labours: dense stitching breaks needles. The machine's manual comes first."

const shortCautions = "Hands clear of the needle. Hoop off before scissors come near. The machine's manual comes first."

// bottom is where the rows end.
func (c *card) bottom() int {
	return c.height - c.edge - len(c.footLines())*c.small.line - c.small.line/2
}

// footLines are the short cautions, beside the page number.
func (c *card) footLines() []string {
	return c.small.wrap(shortCautions, c.width-2*c.edge-c.small.width("page 000 of 000")-px(4))
}

// firstHead names the design and gives the figures that decide whether to
// begin. Without a page it only measures.
func (c *card) firstHead(page *image.RGBA) int {
	right := c.width - c.edge
	pad := px(2)
	if page != nil {
		picture := c.headPicture()
		at := image.Rect(right-c.head, c.edge, right, c.edge+c.head)
		draw.Draw(page, at, picture, image.Point{}, draw.Src)
		frame(page, at, 2, rule)
	}
	width := right - c.head - px(4) - c.edge
	y := c.edge
	write := func(p pen, text string) {
		y += p.line
		p.on(page).write(c.edge, y-p.line/4, text)
	}
	title := c.title.wrap(nameOf(c.r), width)
	if len(title) > 2 {
		// Two lines leave room for the figures beside the picture.
		title = []string{title[0], c.title.fit(strings.Join(title[1:], " "), width)}
	}
	for _, line := range title {
		write(c.title, line)
	}
	// Sizes and formats of one design carry one name.
	if file := fileOf(c.r); file != "" {
		write(c.small, c.small.fit("from "+file, width))
	}
	y += pad
	for _, fact := range c.facts() {
		for _, line := range c.plain.wrap(fact, width) {
			write(c.plain, line)
		}
	}
	y = max(y, c.edge+c.head) + pad

	side := c.plain.line * 3 / 2
	lines := c.plain.wrap(cautions, right-c.edge-side-2*pad-px(2))
	high := max(len(lines)*c.plain.line, side) + 2*pad
	if page != nil {
		frame(page, image.Rect(c.edge, y, right, y+high), 4, ink)
		drawSign(page, c.edge+pad, y+(high-side)/2, side, c.alarm, signWarning)
		at := y + (high-len(lines)*c.plain.line)/2
		for i, line := range lines {
			c.plain.on(page).write(c.edge+2*pad+side, at+(i+1)*c.plain.line-c.plain.line/4, line)
		}
	}
	y += high + pad
	return y - c.edge + pad
}

// facts are the figures of the head, a line each.
func (c *card) facts() []string {
	r := c.r
	if r.Stitches == 0 {
		return []string{"There are no stitches in this file: nothing to sew."}
	}
	facts := []string{
		fmt.Sprintf("%.0f x %.0f mm (%.2f x %.2f in)", r.WidthMM, r.HeightMM, r.WidthMM/25.4, r.HeightMM/25.4),
		words.HoopFor(r.WidthMM, r.HeightMM),
		fmt.Sprintf("%s, %s, %s", count(r.ColourStops, "colour stop"), count(r.Stitches, "stitch"), count(r.Trims, "trim")),
		words.AboutTime(r.Minutes) + ", machine and hands",
		fmt.Sprintf("needle thread %.0f m, bobbin thread %.0f m", math.Ceil(r.NeedleThreadM), math.Ceil(r.BobbinThreadM)),
	}
	if n := math.Ceil(r.Bobbins); n >= 1 {
		facts[len(facts)-1] += ", " + count(int(n), "bobbin")
	}
	return facts
}

// count writes a number with its noun.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	if strings.HasSuffix(noun, "ch") {
		noun += "e"
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// headPicture is the whole design, in greys without colour.
func (c *card) headPicture() *image.RGBA {
	o := ThreadOptions{Width: c.head, Height: c.head}
	if c.o.Ink {
		o.Ground = white
	}
	img := Thread(c.d, c.r, o)
	if c.o.Ink {
		for i := 0; i+3 < len(img.Pix); i += 4 {
			g := color.GrayModel.Convert(color.RGBA{img.Pix[i], img.Pix[i+1], img.Pix[i+2], 255}).(color.Gray).Y
			img.Pix[i], img.Pix[i+1], img.Pix[i+2] = g, g, g
		}
	}
	return img
}

// laterHead repeats the name at the top of a further page.
func (c *card) laterHead(page *image.RGBA) int {
	right := c.width - c.edge
	p := c.bold.on(page)
	text := fmt.Sprintf("%.0f x %.0f mm", c.r.WidthMM, c.r.HeightMM)
	if page != nil {
		w := p.width(text)
		p.write(c.edge, c.edge+p.line*3/4, p.fit(nameOf(c.r), right-c.edge-w-px(6)))
		p.write(right-w, c.edge+p.line*3/4, text)
		box(page, image.Rect(c.edge, c.edge+p.line+px(0.5), right, c.edge+p.line+px(0.5)+3), ink)
	}
	return p.line + px(2)
}

// foot carries the short cautions and the page number.
func (c *card) foot(page *image.RGBA, number, pages int) {
	p := c.small.on(page)
	mark := fmt.Sprintf("page %d of %d", number, pages)
	p.write(c.width-c.edge-p.width(mark), c.height-c.edge, mark)
	lines := c.footLines()
	for i, line := range lines {
		p.write(c.edge, c.height-c.edge-(len(lines)-1-i)*p.line, line)
	}
}

// heading is a line over the blocks after it.
func (c *card) heading(text string) block {
	h := c.role.line + px(2)
	return block{height: h, keep: true, draw: func(page *image.RGBA, x, y int) {
		p := c.role.on(page)
		p.write(x, y+p.line, p.fit(text, c.colW))
	}}
}

// end is a rule under a list.
func (c *card) end() block {
	return block{height: px(3), loose: true, draw: func(page *image.RGBA, x, y int) {
		box(page, image.Rect(x, y+px(1.5), x+c.colW, y+px(1.5)+4), ink)
	}}
}

// cutList tells what to cut before sewing, with a box to tick for each.
func (c *card) cutList() []block {
	cloths := c.r.Cloths
	if len(cloths) == 0 {
		return nil
	}
	out := []block{c.heading("Cut before you begin")}
	side := c.plain.line * 7 / 10
	for _, q := range cloths {
		what := q.Kind
		if q.Piece > 0 {
			what += fmt.Sprintf(" %d", q.Piece)
		}
		text := fmt.Sprintf("%s: %.0f x %.0f mm (%s x %s in), for stop %d", what, math.Ceil(q.WidthMM), math.Ceil(q.HeightMM), eighths(q.WidthMM), eighths(q.HeightMM), q.Stop)
		lines := c.plain.wrap(text, c.colW-2*side)
		out = append(out, block{height: len(lines)*c.plain.line + px(0.7), draw: func(page *image.RGBA, x, y int) {
			frame(page, image.Rect(x, y+c.plain.line/5, x+side, y+c.plain.line/5+side), 3, ink)
			for i, line := range lines {
				c.plain.on(page).write(x+2*side, y+(i+1)*c.plain.line-c.plain.line/4, line)
			}
		}})
	}
	return append(out, c.end())
}

// eighths writes mm as inches in eighths, rounded up, as cloth is cut by ruler.
func eighths(mm float64) string {
	n := int(math.Ceil(mm/25.4*8 - 1e-6))
	whole, part := n/8, n%8
	if part == 0 {
		return fmt.Sprint(whole)
	}
	den := 8
	for part%2 == 0 {
		part, den = part/2, den/2
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d", part, den)
	}
	return fmt.Sprintf("%d %d/%d", whole, part, den)
}

// maxFindings bounds the findings on a card.
const maxFindings = 12

// findings lists what the checks found that must be looked at.
func (c *card) findings() []block {
	var out []block
	more := 0
	for _, f := range c.r.Findings {
		if !f.Severity.AtLeast(report.Caution) {
			continue
		}
		if len(out) > maxFindings {
			more++
			continue
		}
		if out == nil {
			out = append(out, c.heading("Look at this first"))
		}
		where := ""
		if f.Stop > 0 {
			where = fmt.Sprintf("Stop %d: ", f.Stop)
		}
		text := where + f.Message + "."
		if f.Advice != "" {
			text += " " + f.Advice
		}
		out = append(out, c.warning(text)...)
	}
	if more > 0 {
		out = append(out, c.warning(fmt.Sprintf("The check found %d more.", more))...)
	}
	if out != nil {
		out = append(out, c.end())
	}
	return out
}

// warning is a text with the warning sign; a very long one is several blocks.
func (c *card) warning(text string) []block {
	const most = 8
	side := c.plain.line
	lines := c.plain.wrap(text, c.colW-side*3/2)
	var out []block
	for first := 0; first < len(lines); first += most {
		part := lines[first:min(first+most, len(lines))]
		out = append(out, block{height: len(part)*c.plain.line + px(0.7), draw: func(page *image.RGBA, x, y int) {
			if first == 0 {
				drawSign(page, x, y, side, c.alarm, signWarning)
			}
			for i, line := range part {
				c.plain.on(page).write(x+side*3/2, y+(i+1)*c.plain.line-c.plain.line/4, line)
			}
		}})
	}
	return out
}
