package gather

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// Schema names the JSON form of a Gathering.
const Schema = "stopcard/gather/1"

// SeamMM is the seam allowance of quilting, a quarter of an inch: cut size =
// finished size + 1/2 in ("Allowing for allowances", quilting lesson; finished
// 3 -> 3 1/2, finished 6 -> 6 1/2 in).
const SeamMM = 6.35

// Settings say how much is to be made, and of what. Start from
// DefaultGatherSettings.
type Settings struct {
	Blocks         int     `json:"blocks"`          // how many of each design
	Reserve        float64 `json:"reserve"`         // thread bought beyond the estimate, share
	SpoolM         float64 `json:"spool_m"`         // thread on one spool
	ClothWidthMM   float64 `json:"cloth_width_mm"`  // of the cloth that things are cut from
	SittingMinutes float64 `json:"sitting_minutes"` // how long a person sits at a time
	StabiliserMM   float64 `json:"stabiliser_mm"`   // how far stabiliser reaches past the hoop's field
	Columns        int     `json:"columns"`         // blocks joined side by side; 0: not joined
	Rows           int     `json:"rows"`            // and one above the other
	SeamMM         float64 `json:"seam_mm"`         // seam allowance at each edge of a block
}

// DefaultSettings are one block from common spools and cloth. Reserve:
// sewing rooms add 10 to 15 %. Quilting cotton is 1100 mm wide or a little more.
// Stabiliser reaches an inch past the field, to be held by the hoop (common
// practice, no single source).
func DefaultSettings() Settings {
	return Settings{Blocks: 1, Reserve: 0.1, SpoolM: 500, ClothWidthMM: 1100, SittingMinutes: 60, StabiliserMM: 25.4, SeamMM: SeamMM}
}

// Gathering is what to have at hand, and how long it will take.
type Gathering struct {
	Schema   string   `json:"schema"`
	Settings Settings `json:"settings"`
	Designs  []string `json:"designs"` // paths of the reports that were added up

	Threads       []ThreadNeed `json:"threads"`         // top thread, by colour
	BobbinThreadM float64      `json:"bobbin_thread_m"` // as estimated, without the reserve
	Bobbins       int          `json:"bobbins"`         // full ones, with the reserve
	Cloths        []ClothNeed  `json:"cloths"`          // by kind and size
	Lengths       []ClothCut   `json:"lengths"`         // how much of each kind of cloth to buy

	Minutes  float64   `json:"minutes"` // at the machine, with hand work
	Sittings []Sitting `json:"sittings"`
	Joined   *Joined   `json:"joined"` // nil unless blocks are joined
}

// ThreadNeed is the top thread of one colour.
type ThreadNeed struct {
	Colour *string `json:"colour"` // "#rrggbb", or nil where the file has none
	Name   string  `json:"name"`   // colour name, or the stop and its role
	Stops  int     `json:"stops"`  // colour stops of one block of each design
	Metres float64 `json:"metres"` // as estimated, without the reserve
	Spools int     `json:"spools"` // with the reserve
}

// ClothNeed is so many rectangles of one size.
type ClothNeed struct {
	Design   string  `json:"design"`
	Kind     string  `json:"kind"`  // as Cloth.Kind, or "stabiliser"
	Piece    int     `json:"piece"` // number of the applique piece, 0 for none
	Count    int     `json:"count"`
	WidthMM  float64 `json:"width_mm"`
	HeightMM float64 `json:"height_mm"`
}

// ClothCut is how much of a cloth of the set width is needed to cut everything
// of one kind from it.
type ClothCut struct {
	Kind     string  `json:"kind"`
	Piece    int     `json:"piece"` // of this piece alone, if each has a cloth of its own; 0 for all
	Design   string  `json:"design"`
	Count    int     `json:"count"`
	LengthMM float64 `json:"length_mm"` // along the selvedge
	TooWide  int     `json:"too_wide"`  // rectangles that the cloth is too narrow for, either way round
}

// Sitting is one stay at the machine. It ends after a colour stop, when the next
// one would not fit in.
type Sitting struct {
	Design    string  `json:"design"` // where it begins
	FromBlock int     `json:"from_block"`
	FromStop  int     `json:"from_stop"`
	ToBlock   int     `json:"to_block"`
	ToStop    int     `json:"to_stop"`
	Minutes   float64 `json:"minutes"`
}

// Joined is the size of blocks sewn together.
type Joined struct {
	BlockMM    [2]float64 `json:"block_mm"`    // one block, trimmed, with its seam allowance
	FinishedMM [2]float64 `json:"finished_mm"` // what of it shows: less a seam allowance on every edge
	InsideMM   [2]float64 `json:"inside_mm"`   // all blocks as they show
	RawMM      [2]float64 `json:"raw_mm"`      // with the seam allowance round the outside
	Blocks     int        `json:"blocks"`
	SeamMM     float64    `json:"seam_sewn_mm"` // length of all seams between blocks, row by row and then row to row
}

// Gather adds up what the designs of the reports need. The reports must come
// from Run with the same s. It does not change them.
func Gather(reports []*report.Report, s report.Settings, g Settings) *Gathering {
	g.Blocks = max(g.Blocks, 0)
	out := &Gathering{Schema: Schema, Settings: g, Designs: []string{}, Threads: []ThreadNeed{}, Cloths: []ClothNeed{}, Lengths: []ClothCut{}, Sittings: []Sitting{}}
	n := float64(g.Blocks)
	for _, r := range reports {
		out.Designs = append(out.Designs, r.Path)
		out.addThreads(r, n, len(reports) > 1)
		out.BobbinThreadM += r.BobbinThreadM * n
		out.Minutes += r.Minutes * n
		for _, c := range r.Cloths {
			out.addCloth(ClothNeed{r.Path, c.Kind, c.Piece, g.Blocks, c.WidthMM, c.HeightMM})
		}
		w, h := s.HoopWidthMM, s.HoopHeightMM
		if w <= 0 || h <= 0 {
			w, h = r.WidthMM, r.HeightMM
		}
		out.addCloth(ClothNeed{r.Path, "stabiliser", 0, g.Blocks, w + 2*g.StabiliserMM, h + 2*g.StabiliserMM})
	}
	out.nameThreads()
	for i := range out.Threads {
		out.Threads[i].Spools = wholes(out.Threads[i].Metres*(1+g.Reserve), g.SpoolM)
	}
	out.Bobbins = wholes(out.BobbinThreadM*(1+g.Reserve), s.BobbinM)
	out.lengths()
	out.Sittings = sittings(reports, g)
	if g.Columns > 0 && g.Rows > 0 && len(reports) > 0 {
		out.Joined = Join(reports[0].WidthMM, reports[0].HeightMM, g.Columns, g.Rows, g.SeamMM)
	}
	return out
}

// wholes is how many full ones of size hold amount.
func wholes(amount, size float64) int {
	if amount <= 0 || size <= 0 {
		return 0
	}
	return int(math.Ceil(amount/size - 1e-9))
}

// addThreads adds a design's threads to those of the same colour. A stop whose
// colour the file does not tell stands for itself.
func (g *Gathering) addThreads(r *report.Report, blocks float64, several bool) {
	for i := range r.Stops {
		stop := &r.Stops[i]
		need := ThreadNeed{Colour: stop.Colour, Stops: 1, Metres: stop.NeedleThreadM * blocks}
		switch {
		case stop.Colour == nil && several:
			need.Name = fmt.Sprintf("stop %d of %s: %s", stop.Number, r.Path, stop.Role)
		case stop.Colour == nil:
			need.Name = fmt.Sprintf("stop %d: %s", stop.Number, stop.Role)
		}
		j := slices.IndexFunc(g.Threads, func(t ThreadNeed) bool {
			return t.Colour != nil && need.Colour != nil && *t.Colour == *need.Colour
		})
		if j < 0 {
			g.Threads = append(g.Threads, need)
			continue
		}
		g.Threads[j].Stops++
		g.Threads[j].Metres += need.Metres
	}
}

// nameThreads names the colours of all designs together, so that a word means one
// colour.
func (g *Gathering) nameThreads() {
	var at []int
	var cs []color.RGBA
	for i := range g.Threads {
		if g.Threads[i].Colour == nil {
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

// addCloth adds rectangles to those of the same kind and size.
func (g *Gathering) addCloth(c ClothNeed) {
	if c.Count == 0 {
		return
	}
	j := slices.IndexFunc(g.Cloths, func(o ClothNeed) bool {
		return o.Design == c.Design && o.Kind == c.Kind && o.Piece == c.Piece && o.WidthMM == c.WidthMM && o.HeightMM == c.HeightMM
	})
	if j >= 0 {
		g.Cloths[j].Count += c.Count
		return
	}
	g.Cloths = append(g.Cloths, c)
}

// lengths lays out each kind of cloth: everything of the kind together, and each
// applique piece alone where there are several, since most have a cloth of their
// own.
func (g *Gathering) lengths() {
	byKind := func(c ClothNeed) ClothCut { return ClothCut{Kind: c.Kind} }
	byPiece := func(c ClothNeed) ClothCut { return ClothCut{Kind: c.Kind, Piece: c.Piece, Design: c.Design} }
	for _, key := range []func(ClothNeed) ClothCut{byKind, byPiece} {
		var cuts []ClothCut
		rects := map[ClothCut][]Rect{}
		for _, c := range g.Cloths {
			k := key(c)
			if k.Piece == 0 && k.Design != "" {
				continue
			}
			if rects[k] == nil {
				cuts = append(cuts, k)
			}
			for range c.Count {
				rects[k] = append(rects[k], Rect{WidthMM: c.WidthMM, HeightMM: c.HeightMM})
			}
		}
		for _, k := range cuts {
			length, placed := PackShelves(rects[k], g.Settings.ClothWidthMM)
			k.Count, k.LengthMM, k.TooWide = len(rects[k]), length, len(rects[k])-len(placed)
			g.Lengths = append(g.Lengths, k)
		}
	}
}

// Rect is a rectangle on cloth: X across it, Y along the selvedge.
type Rect struct {
	X, Y              float64
	WidthMM, HeightMM float64
}

// PackShelves lays rectangles in rows across a cloth of the given width, the
// tallest first, each in the first row that has room for it, and gives the
// length of cloth this takes and where each lies (first-fit decreasing height;
// no more than 1.7 times the best length plus the tallest rectangle: Coffman,
// Garey, Johnson, Tarjan, SIAM J. Computing 9, 1980). Rectangles keep to the
// grain; only one that is too wide for the cloth is turned, and left out of
// placed if it is too wide that way too.
func PackShelves(rects []Rect, width float64) (length float64, placed []Rect) {
	var fit []Rect
	for _, r := range rects {
		if r.WidthMM > width {
			r.WidthMM, r.HeightMM = r.HeightMM, r.WidthMM
		}
		if r.WidthMM <= width {
			fit = append(fit, r)
		}
	}
	slices.SortStableFunc(fit, func(a, b Rect) int { return cmp.Compare(b.HeightMM, a.HeightMM) })
	type shelf struct{ y, used float64 }
	var shelves []shelf
	for _, r := range fit {
		const slack = 1e-9 // widths that fill a cloth exactly add up to a little more
		i := slices.IndexFunc(shelves, func(s shelf) bool { return s.used+r.WidthMM <= width+slack })
		if i < 0 {
			i = len(shelves)
			shelves = append(shelves, shelf{y: length})
			length += r.HeightMM
		}
		r.X, r.Y = shelves[i].used, shelves[i].y
		shelves[i].used += r.WidthMM
		placed = append(placed, r)
	}
	return length, placed
}

// sittings shares the work out. A colour stop is never parted, so one that is
// longer than a sitting makes the sitting longer.
func sittings(reports []*report.Report, g Settings) []Sitting {
	out := []Sitting{}
	var now *Sitting
	for _, r := range reports {
		for block := 1; block <= g.Blocks; block++ {
			for i := range r.Stops {
				stop := &r.Stops[i]
				if now == nil || now.Minutes+stop.Minutes > g.SittingMinutes+1e-9 {
					out = append(out, Sitting{Design: r.Path, FromBlock: block, FromStop: stop.Number})
					now = &out[len(out)-1]
				}
				now.ToBlock, now.ToStop = block, stop.Number
				now.Minutes += stop.Minutes
			}
		}
	}
	return out
}

// Join sews columns x rows blocks of the given trimmed size together with the
// given seam allowance: finished = block - 2 x allowance. It is nil where
// nothing of a block would show.
func Join(width, height float64, columns, rows int, seam float64) *Joined {
	fw, fh := width-2*seam, height-2*seam
	if fw <= 0 || fh <= 0 {
		return nil
	}
	inside := [2]float64{fw * float64(columns), fh * float64(rows)}
	return &Joined{
		BlockMM: [2]float64{width, height}, FinishedMM: [2]float64{fw, fh}, InsideMM: inside,
		RawMM:  [2]float64{inside[0] + 2*seam, inside[1] + 2*seam},
		Blocks: columns * rows,
		// Within a row the seams run the height of a block; between rows, the
		// width of the joined row.
		SeamMM: float64(rows*(columns-1))*height + float64(rows-1)*(inside[0]+2*seam),
	}
}
