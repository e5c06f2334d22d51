package render

import (
	"fmt"
	"image"
	"image/color"
	"iter"
	"math"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/stitchfile"
)

var hoopView = View{
	Name: "hoop",
	Doc:  "what lies in the hoop at a stop, or at each stop where the hands change it",
	Draw: drawHoop,
}

func drawHoop(d *stitchfile.Design, r *report.Report, o Options) iter.Seq[Picture] {
	return func(yield func(Picture) bool) {
		var stops []*report.Stop
		c := clothStates{r}
		for i := range r.Stops {
			s := &r.Stops[i]
			if s.Number == o.Stop || o.Stop == 0 && (len(c.came(s)) > 0 || len(c.cuts(s)) > 0) {
				stops = append(stops, s)
			}
		}
		if len(stops) == 0 {
			f := foot{title: "What lies in the hoop", notes: []string{"No stop has cloth to lay or to trim, as far as the stitches tell."}}
			if o.Stop != 0 {
				f.notes = []string{fmt.Sprintf("There is no stop %d in this design.", o.Stop)}
			}
			s := newSheet(d, r, o, f)
			s.faint()
			yield(s.picture())
			return
		}
		for _, s := range stops {
			p := hoopAt(d, r, o, s)
			if len(stops) > 1 {
				p.Label = fmt.Sprint(s.Number)
			}
			if ended(o.Context) != nil || !yield(p) {
				return
			}
		}
	}
}

// hoopAt draws what lies in the hoop while a stop is sewn.
func hoopAt(d *stitchfile.Design, r *report.Report, o Options, s *report.Stop) Picture {
	c := clothStates{r}
	f := foot{title: fmt.Sprintf("In the hoop at stop %d, %s", s.Number, words.Role(r, s))}
	under := c.under(s)
	if under != nil {
		f.notes = append(f.notes, "Seen from below, left for right: the hoop is turned over for this.")
	}
	if text := lyingText(s.LiesInHoop); text != "" {
		f.notes = append(f.notes, sentence(text)+".")
	} else {
		f.notes = append(f.notes, "Nothing is known to be laid yet, beside what is hooped.")
	}
	for _, w := range []struct{ lead, text string }{{"First", handVerbs(r, s, s.BeforeSteps)}, {"Then", handVerbs(r, s, s.AfterSteps)}} {
		if w.text != "" {
			f.notes = append(f.notes, w.lead+": "+w.text+".")
		}
	}
	f.keys = append(f.keys, key{colour: hoopInk(s), text: fmt.Sprintf("stop %d", s.Number)})
	if under == nil {
		f.keys = append(f.keys, key{colour: pastGrey, text: "sewn before"})
	}
	seen := map[report.Material]bool{}
	for _, l := range s.LiesInHoop {
		// Batting that was trimmed to its line lies out of sight under the block cloth.
		if under != nil && l.Side != report.Underside { // hidden by what lies below it
			continue
		}
		if l.State == report.Hooped || seen[l.What] || l.What == report.Batting && l.State == report.Trimmed && len(s.LiesInHoop) > 2 {
			continue
		}
		seen[l.What] = true
		text := string(l.What)
		if l.What == report.Batting {
			text += ", dotted"
		}
		f.keys = append(f.keys, key{colour: tintOf(l.What), text: text})
	}
	if len(c.cuts(s)) > 0 {
		f.keys = append(f.keys, key{colour: ink, text: "dashed, with scissors: trim here after it"})
	}

	// Room for the cloth round the design.
	w, h := r.WidthMM, r.HeightMM
	for _, q := range r.Cloths {
		if q.Piece == 0 {
			w, h = max(w, q.WidthMM), max(h, q.HeightMM)
		}
	}
	for i := range r.Stops {
		for _, l := range c.came(&r.Stops[i]) {
			laid, _ := c.outline(l, &r.Stops[i])
			for _, q := range laid {
				w, h = max(w, 2*math.Abs(q.X)), max(h, 2*math.Abs(q.Y))
			}
		}
	}
	sh := newSheetOf(d, r, o, f, geom.Point{}, w, h)
	in := image.NewRGBA(sh.field)
	ground := white
	if o.Ground.A != 0 {
		ground = o.Ground
	}
	box(in, in.Rect, ground)
	// Its lines and signs are finer than those of the small pictures.
	p := stopPictures{d: d, r: r, side: in.Rect.Dx() * 2 / 5, place: sh.place, faint: in, cloth: c}
	img := p.base(s)
	p.stop(img, s, false)
	p.finish(img, s)
	for y := sh.field.Min.Y; y < sh.field.Max.Y; y++ {
		copy(sh.img.Pix[sh.img.PixOffset(sh.field.Min.X, y):][:4*sh.field.Dx()], img.Pix[img.PixOffset(sh.field.Min.X, y):][:4*sh.field.Dx()])
	}
	sh.hoop()
	return sh.picture()
}

// hoopInk is the colour that a stop is drawn in where what is before it is grey.
func hoopInk(s *report.Stop) color.RGBA {
	if s.Thread.HasColour() {
		return s.Thread.Colour
	}
	return unknownThread
}
