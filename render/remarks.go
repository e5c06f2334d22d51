package render

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/report"
)

// clothOf is what the notes say to cut some pieces from, where that is one cloth.
func clothOf(r *report.Report, pieces []int) string {
	cloth := ""
	for i, n := range pieces {
		p := (clothStates{r}).piece(n)
		if p == nil || i > 0 && p.Cloth != cloth {
			return ""
		}
		cloth = p.Cloth
	}
	return safeText(cloth)
}

// remarks are the notes' words that the rows have no room for: those on pieces, and what
// of those on stops is cut short there.
func (c *card) remarks() []block {
	var out []block
	tell := func(of string, n int, text string) {
		if len(out) == 0 {
			out = append(out, c.heading("Remarks"))
		}
		out = append(out, c.item(textLetters, fmt.Sprintf("%s %d: %s", of, n, safeLong(text)), 5.4, nil)...)
	}
	for i := range c.r.Pieces {
		if p := &c.r.Pieces[i]; p.Note != "" {
			tell("Piece", p.Number, p.Note)
		}
	}
	for i := range c.r.Stops {
		if s := &c.r.Stops[i]; len(roleBold.wrap(safeLong(s.Note), c.textW)) > mostLines {
			tell("Stop", s.Number, s.Note)
		}
	}
	if c.lacksLetters() {
		if out == nil {
			out = append(out, c.heading("Remarks"))
		}
		out = append(out, c.item(textLetters, "The letters of this card have no signs for some of the words here: ? stands for each. The page shows them.", 5.4, nil)...)
	}
	if out != nil {
		out = append(out, gapAfter())
	}
	return out
}

// lacksLetters reports whether some text that a file or its notes give cannot be written
// with the letters of the card.
func (c *card) lacksLetters() bool {
	texts := []string{titleOf(c.r), fileOf(c.r)}
	for i := range c.r.Stops {
		texts = append(texts, c.r.Stops[i].Note, c.r.Stops[i].ThreadText())
	}
	for i := range c.r.Pieces {
		texts = append(texts, c.r.Pieces[i].Cloth, c.r.Pieces[i].Note)
	}
	for _, s := range texts {
		if s = safeLong(s); textLetters.legible(s) != s {
			return true
		}
	}
	return false
}
