package render

import (
	"fmt"
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
)

// cardRow is a row of the sheet to do: a colour stop, or several alike.
type cardRow struct {
	stops []*report.Stop
	apart int // how many stops from one to the next of them

	before, after string // verbs for the hands
	end           bool   // the block may end after it
	minutes       float64
	next          float64 // minutes until the hands are needed at the hoop; 0: no more
	nextAt        int     // stop at which that is
	grave         report.Severity
	lines         []rowLine
}

func (w *cardRow) first() *report.Stop { return w.stops[0] }
func (w *cardRow) last() *report.Stop  { return w.stops[len(w.stops)-1] }

// numbers are what stands large on the row.
func (w *cardRow) numbers() []string {
	if len(w.stops) == 1 {
		return []string{fmt.Sprint(w.first().Number)}
	}
	return []string{fmt.Sprint(w.first().Number), fmt.Sprint(w.last().Number)}
}

// which says which stops a row of several stands for.
func (w *cardRow) which() string {
	from, to := w.first().Number, w.last().Number
	text := fmt.Sprintf("%d to %d", from, to)
	switch {
	case w.apart == 1:
		return text
	case w.apart == 2 && from%2 == 1:
		return text + " odd"
	case w.apart == 2:
		return text + " even"
	}
	var all []int
	for _, s := range w.stops {
		all = append(all, s.Number)
	}
	return numberRanges(all)
}

// Rows are merged where at least leastAlike stops alike follow one another, or come
// at even steps of up to mostApart stops.
const (
	leastAlike = 3
	mostApart  = 6
)

// mergedRows gathers the stops into rows. Stops alike that repeat make one row, where
// the first of them stands, but never across anything that the hands do: that must
// be met in its order.
func (c *card) mergedRows() []cardRow {
	stops := c.r.Stops
	taken := make([]bool, len(stops))
	var rows []cardRow
	for i, end := 0, 0; i < len(stops); i++ {
		if taken[i] {
			continue
		}
		if end <= i {
			for end = i; end < len(stops) && !c.hands(end); end++ {
			}
		}
		// The longest series that begins here, of the shortest step.
		apart, most := 0, leastAlike-1
		for p := 1; p <= mostApart; p++ {
			n := 1
			for k := i + p; k < end && !taken[k] && alike(&stops[k], &stops[i]); k += p {
				n++
			}
			if i < end && n > most {
				apart, most = p, n
			}
		}
		w := cardRow{stops: []*report.Stop{&stops[i]}, apart: apart}
		for k := 1; apart > 0 && k < most; k++ {
			taken[i+k*apart] = true
			w.stops = append(w.stops, &stops[i+k*apart])
		}
		rows = append(rows, w)
	}
	for k := range rows {
		last := rows[k].last().Number
		c.fillRow(&rows[k], last < len(stops) && mayEndAt(&stops[last]))
	}
	return rows
}

// hands reports whether stop i has anything of its own to be told: work for the
// hands, or an end.
func (c *card) hands(i int) bool {
	s := &c.r.Stops[i]
	before, after := stepsOr(s.BeforeSteps, s.Before), stepsOr(s.AfterSteps, s.After)
	told := func(steps []report.Step) bool {
		for _, t := range steps {
			if t.Kind != report.StepChangeThread && t.Kind != report.StepHoopOn {
				return true
			}
		}
		return false
	}
	return told(before) || told(after) || i+1 < len(c.r.Stops) && mayEndAt(&c.r.Stops[i+1])
}

// alike reports whether two stops take the same thread for the same work. Where
// the file has no colours nobody knows.
func alike(a, b *report.Stop) bool {
	return a.Role == b.Role && a.Thread.HasColour() && b.Thread.HasColour() &&
		a.Thread.Colour == b.Thread.Colour && a.Thread.Name == b.Thread.Name
}

// fillRow works out what a row tells.
func (c *card) fillRow(w *cardRow, end bool) {
	first, last := w.first(), w.last()
	w.before = handVerbs(c.r, first, first.BeforeSteps)
	w.after = handVerbs(c.r, last, last.AfterSteps)
	w.end = end
	for _, s := range w.stops {
		w.minutes += s.MachineMin
		for _, f := range c.r.Findings {
			if (f.Stop == s.Number || slices.Contains(f.Stops, s.Number)) && f.Severity.AtLeast(report.Caution) && f.Severity.Rank() > w.grave.Rank() {
				w.grave = f.Severity
			}
		}
	}
	w.minutes /= float64(len(w.stops))
	w.next, w.nextAt = nextHands(c.r, first)
}

// nextHands is how long the machine sews from a stop on until the hands are needed
// at the hoop, and at which stop; at is 0 where they are no more, and the time that
// to the end.
func nextHands(r *report.Report, from *report.Stop) (minutes float64, at int) {
	for i := max(from.Number-1, 0); i < len(r.Stops); i++ {
		s := &r.Stops[i]
		if s.Number != from.Number && needsHands(r, s, s.BeforeSteps) {
			return minutes, s.Number
		}
		minutes += awayMinutes(r, s)
		if needsHands(r, s, s.AfterSteps) {
			return minutes, s.Number
		}
	}
	return minutes, 0
}

// awayMinutes is a stop's time without the work at the hoop: thread is changed beside it.
func awayMinutes(r *report.Report, s *report.Stop) float64 {
	set := settingsOf(r)
	m := s.Minutes
	for _, steps := range [][]report.Step{s.BeforeSteps, s.AfterSteps} {
		for _, t := range steps {
			switch t.Kind {
			case report.StepLay:
				m -= set.LaySeconds / 60
			case report.StepTrim:
				m -= set.CutSeconds / 60
			}
		}
	}
	return max(m, 0)
}
