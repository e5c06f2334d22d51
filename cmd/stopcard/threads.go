package main

import (
	"fmt"
	"io"
	"path"
	"strings"

	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// threads writes what to know of the threads beside their names: where their colours
// come from, which stops take any, and which of one's own fit.
func (l layout) threads(w io.Writer, r *report.Report) {
	if r.ColoursFrom != "" {
		l.para(w, 2, "", printable(fmt.Sprintf("The thread colours are those of %s, which has the same stitches: this file itself carries none.", path.Base(r.ColoursFrom))))
	}
	var any []int
	for _, s := range r.Stops {
		if s.AnyThread {
			any = append(any, s.Number)
		}
	}
	if len(any) > 0 {
		wait := "colours there are"
		if len(any) == 1 {
			wait = "colour there is"
		}
		l.para(w, 2, "", fmt.Sprintf("Any thread will do for %s, wash-away or one like the cloth: the %s only to make the machine wait.", words.ListStops(any), wait))
	}
	for _, u := range r.Spools {
		l.para(w, 2, "", printable(l.spool(&u)))
	}
	l.missing(w, r)
}

// spool says which stops take one of the person's own threads, and whether it lasts.
func (l layout) spool(u *report.SpoolUse) string {
	text := fmt.Sprintf("Your %s: %s, %s", u.Name, words.ListStops(u.Stops), l.units.Metres(u.NeedM))
	if len(u.Stops) > 1 {
		text = fmt.Sprintf("Your %s: %s take the same spool, %s", u.Name, words.ListStops(u.Stops), l.units.Metres(u.NeedM))
	}
	switch short := u.Short(); {
	case short > 0:
		text += fmt.Sprintf("; only %s are left, %s too little", l.units.Metres(*u.LeftM), l.units.Metres(short))
	case u.LeftM != nil:
		text += fmt.Sprintf(" of %s left", l.units.Metres(*u.LeftM))
	}
	return text + "."
}

// missing lists the colours that no thread of one's own comes near, and shades that
// stand for two.
func (l layout) missing(w io.Writer, r *report.Report) {
	type colour struct {
		name, hex, nearest string
		off                float64
		stops              []int
	}
	var all []*colour
	for i := range r.Stops {
		s := &r.Stops[i]
		if s.Spool == nil || s.Spool.Near != report.NearOff || s.Colour == nil {
			continue
		}
		var at *colour
		for _, c := range all {
			if c.hex == *s.Colour {
				at = c
			}
		}
		if at == nil {
			at = &colour{hex: *s.Colour, nearest: s.Spool.Name, off: s.Spool.Difference}
			if s.ColourName != nil {
				at.name = *s.ColourName
			}
			all = append(all, at)
		}
		at.stops = append(at.stops, s.Number)
	}
	for _, c := range all {
		l.para(w, 2, "", printable(strings.TrimSpace(fmt.Sprintf("Missing from your box: %s %s for %s; your nearest is %s, which is another colour (off by %.0f).", c.name, c.hex, words.ListStops(c.stops), c.nearest, c.off))))
	}
	var shared []string // spools, in the order of use
	stops := map[string][]int{}
	for i := range r.Stops {
		if s := &r.Stops[i]; s.Spool != nil && s.Spool.Shared {
			if stops[s.Spool.Name] == nil {
				shared = append(shared, s.Spool.Name)
			}
			stops[s.Spool.Name] = append(stops[s.Spool.Name], s.Number)
		}
	}
	for _, name := range shared {
		l.para(w, 2, "", printable(fmt.Sprintf("Your %s would sew different colours that lie side by side, in %s: your box has no other that is near.", name, words.ListStops(stops[name]))))
	}
}

// toBuy is the shopping list of someone with a thread box: what is not in it, and
// what runs out.
func (l layout) toBuy(w io.Writer, g *gather.Gathering, s report.Settings) {
	if len(s.Threads) == 0 {
		return
	}
	fmt.Fprintf(w, "\nThread to buy, beyond what is in your box\n")
	none := true
	for _, t := range g.Threads {
		if t.BuyM <= 0 {
			continue
		}
		none = false
		name := printable(t.Name)
		if t.Colour != nil {
			name += " " + *t.Colour
		}
		if t.LeftM != nil {
			name += " (runs out)"
		}
		fmt.Fprintf(w, "  %s %22s  %s\n", pad(clip(name, l.width-41), l.width-40), l.units.Metres(t.BuyM), words.Count(t.Spools, "spool"))
	}
	if none {
		fmt.Fprintln(w, "  nothing: all of it is at hand")
	}
}
