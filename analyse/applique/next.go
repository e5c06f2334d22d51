package applique

import "fmt"

const (
	nearLead    = 2.2  // log-odds: a next reading this near is told; nine in ten
	perhapsLead = -1.2 // log-odds: plain stitching that leads by no more may be applique
)

// nextReading says what a piece may be as well, and what would decide.
func (p *finder) nextReading(c *chain, o, next *option) string {
	switch {
	case next == nil && o.tack == nil && c.line.times > 1:
		return "plain stitching, or a line and its tack-down sewn on end, whose pause was lost: ask the pattern whether cloth is laid inside the line, and when"
	case next == nil && o.tack == nil:
		return "plain stitching, a line under its satin: ask the pattern whether cloth is laid inside the line"
	case next == nil && len(o.cover) == 0:
		return "plain stitching, lines side by side: ask the pattern whether cloth is laid over the first"
	case next == nil:
		return "plain stitching: ask the pattern whether cloth is laid over the line"
	case next.tack == nil:
		return "applique cut to shape beforehand: the pattern says whether the cloth is trimmed in the hoop"
	case len(next.cover) == 0:
		return fmt.Sprintf("applique with a raw edge, held by stop %d: the pattern says what finishes the edge", next.tack.stop+1)
	}
	return fmt.Sprintf("applique held by stop %d and finished in stop %d: the pattern says which line holds the cloth", next.tack.stop+1, next.cover[0].stop+1)
}

// perhaps remembers a chain that is read as plain stitching but may be applique.
func (p *finder) perhaps(c *chain) {
	if c.line.Stop >= len(p.maybe) {
		p.maybe = append(p.maybe, make([]string, len(p.sewn.Stops)-len(p.maybe))...)
	}
	for k := range c.options {
		if o := &c.options[k]; o.score+o.fit > perhapsLead && p.maybe[c.line.Stop] == "" {
			p.maybe[c.line.Stop] = p.describeOption(o)
		}
	}
}

func (p *finder) describeOption(o *option) string {
	switch {
	case o.tack == nil:
		return fmt.Sprintf("may be applique, ask the pattern: cloth cut to the line and covered in stop %d", o.cover[0].stop+1)
	case len(o.cover) == 0:
		return fmt.Sprintf("may be applique, ask the pattern: cloth over this line, held in stop %d, its edge left raw", o.tack.stop+1)
	}
	return fmt.Sprintf("may be applique, ask the pattern: cloth over this line, held in stop %d and covered in stop %d", o.tack.stop+1, o.cover[0].stop+1)
}
