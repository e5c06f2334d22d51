package render

import (
	"fmt"
	"image"
	"math"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

var threadView = View{
	Name: "thread",
	Doc:  "the design as it will look sewn, thread by thread",
	Draw: single(func(d *stitchfile.Design, r *report.Report, o Options) Picture {
		var f foot
		if o.Ground.A == 0 && !o.Transparent {
			name, c := groundFor(r)
			o.Ground = c
			if text := groundWords(name); text != "" {
				f.notes = append(f.notes, text)
			}
		}
		if text := invented(r); text != "" {
			f.notes = append(f.notes, text)
		}
		if n, mm := looseThreads(d, r); n > 0 {
			text := fmt.Sprintf("%d loose threads over the cloth between sewn parts, %s together: drawn as the machine leaves them.", n, unitsOf(r).Stretch(mm))
			if n == 1 {
				text = fmt.Sprintf("1 loose thread over the cloth between sewn parts, %s long: drawn as the machine leaves it.", unitsOf(r).Stretch(mm))
			}
			f.notes = append(f.notes, text)
		}
		f.keys = threadKeys(r)
		s := newSheet(d, r, o, f)
		sew(s.img.SubImage(s.field).(*image.RGBA), s.place, d, r, ThreadOptions{})
		return s.picture()
	}),
}

// invented says of which stops the colours are not the file's, since it tells none.
func invented(r *report.Report) string {
	var stops []int
	for i := range r.Stops {
		if !r.Stops[i].Thread.HasColour() {
			stops = append(stops, r.Stops[i].Number)
		}
	}
	switch len(stops) {
	case 0:
		return ""
	case len(r.Stops):
		return "The file tells no thread colours: these only tell the stops apart."
	}
	return fmt.Sprintf("The file tells no colour for %s: those here only tell stops apart.", words.ListStops(stops))
}

// looseThreads counts the threads that lie loose and are longer than the limit of
// untrimmed-jump, and adds up their lengths in mm.
func looseThreads(d *stitchfile.Design, r *report.Report) (n int, mm float64) {
	set := settingsOf(r)
	limit := set.Limit("untrimmed-jump")
	for i := range r.Stops {
		(plane{perMM: 1}).loose(d, r, &r.Stops[i], func(_ int, x0, y0, x1, y1 float64) {
			if l := math.Hypot(x1-x0, y1-y0); l > limit {
				n, mm = n+1, mm+l
			}
		})
	}
	return n, mm
}

// threadKeys tell the threads of a design with their stops.
func threadKeys(r *report.Report) (keys []key) {
	at := map[string]int{}
	var stops [][]int
	for i := range r.Stops {
		s := &r.Stops[i]
		if !s.Thread.HasColour() {
			continue
		}
		name := threadText(s)
		k, ok := at[name]
		if !ok {
			if len(keys) == maxKeys {
				continue
			}
			k = len(keys)
			at[name] = k
			keys, stops = append(keys, key{colour: s.Thread.Colour, text: name}), append(stops, nil)
		}
		stops[k] = append(stops[k], s.Number)
	}
	for k := range keys {
		keys[k].text += fmt.Sprintf(", %s %s", stopWord(stops[k]), numberRanges(stops[k]))
	}
	return keys
}
