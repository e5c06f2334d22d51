package gather

import (
	"fmt"
	"image/color"
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// ThreadNeed is the top thread of one colour, or of one thread of one's own.
type ThreadNeed struct {
	Colour *string `json:"colour"` // "#rrggbb", of the designs or of one's own thread; nil where they tell none
	Name   string  `json:"name"`   // colour name, what the notes call it, or the stop and its role
	Stops  int     `json:"stops"`  // colour stops of one block of each design
	Metres float64 `json:"metres"` // as estimated, without the reserve
	Spools int     `json:"spools"` // to buy, with the reserve

	AnyThread bool     `json:"any_thread"` // of stops whose colour only makes the machine wait: wash-away, or one like the cloth
	Own       string   `json:"own"`        // the thread of one's own that does for it; empty: none
	LeftM     *float64 `json:"left_m"`     // metres left of that; nil: enough, or not one's own
	BuyM      float64  `json:"buy_m"`      // metres to buy, with the reserve

	Noted bool `json:"noted"` // Name is out of the notes or of the box
}

// addThreads adds a design's threads to those of the same colour. A stop whose
// colour the file does not tell stands for itself.
func (g *Gathering) addThreads(r *report.Report, blocks float64, several bool) {
	for i := range r.Stops {
		stop := &r.Stops[i]
		need := ThreadNeed{Colour: stop.Colour, Stops: 1, Metres: stop.NeedleThreadM * blocks}
		switch own := stop.Spool; {
		case stop.AnyThread:
			need.Colour, need.Name, need.AnyThread = nil, words.AnyThread, true
		case own != nil && own.Near != report.NearOff:
			need.Own, need.Name, need.Noted = own.Name, "your "+own.Name, true
			if colour := own.Colour; colour != "" {
				need.Colour = &colour
			}
		case stop.ThreadNoted:
			need.Name, need.Noted = stop.ThreadName, true
		case stop.Colour == nil && several:
			need.Name = fmt.Sprintf("stop %d of %s: %s", stop.Number, r.Path, stop.Role)
		case stop.Colour == nil:
			need.Name = fmt.Sprintf("stop %d: %s", stop.Number, stop.Role)
		}
		j := slices.IndexFunc(g.Threads, need.same)
		if j < 0 {
			g.Threads = append(g.Threads, need)
			continue
		}
		if a, b := g.Threads[j].Colour, need.Colour; a != nil && b != nil && *a != *b {
			g.Threads[j].Colour = nil // a thread that the notes name for stops of several colours
		}
		g.Threads[j].Stops++
		g.Threads[j].Metres += need.Metres
	}
}

// same reports whether two needs are of one thread.
func (n *ThreadNeed) same(o ThreadNeed) bool {
	if n.Noted || o.Noted || n.AnyThread || o.AnyThread {
		return n.Noted == o.Noted && n.AnyThread == o.AnyThread && n.Own == o.Own && n.Name == o.Name
	}
	return n.Colour != nil && o.Colour != nil && *n.Colour == *o.Colour
}

// nameThreads names the colours of all designs together, so that a word means one
// colour.
func (g *Gathering) nameThreads() {
	var at []int
	var cs []color.RGBA
	for i := range g.Threads {
		if g.Threads[i].Colour == nil || g.Threads[i].Noted {
			continue
		}
		if c, ok := words.ParseHex(*g.Threads[i].Colour); ok {
			at, cs = append(at, i), append(cs, c)
		}
	}
	for j, name := range words.ColourNames(cs) {
		g.Threads[at[j]].Name = name
	}
}

// buyThreads works out what is not at hand. Stops that any thread will do for need
// no spool of their own: what is left over from other work will do.
func (g *Gathering) buyThreads(box []report.OwnThread) {
	for i := range g.Threads {
		t := &g.Threads[i]
		if t.AnyThread {
			continue
		}
		t.BuyM = t.Metres * (1 + g.Settings.Reserve)
		if t.Own != "" {
			if k := slices.IndexFunc(box, func(o report.OwnThread) bool { return o.Name == t.Own }); k >= 0 {
				t.LeftM = box[k].LeftM
			}
			if t.LeftM == nil {
				t.BuyM = 0
			} else {
				t.BuyM = max(0, t.BuyM-*t.LeftM)
			}
		}
		t.Spools = wholes(t.BuyM, g.Settings.SpoolM)
	}
}
