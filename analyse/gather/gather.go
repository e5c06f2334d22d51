package gather

import (
	"math"
	"slices"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
)

// Schema names the JSON form of a Document.
const Schema = "stopcard/gather/2"

// Document is the top of the JSON output.
type Document struct {
	Schema     string              `json:"schema"`
	Gatherings []*Gathering        `json:"gatherings"` // one for each design, or one for all together
	Unreadable []report.Unreadable `json:"unreadable"`
	Complete   bool                `json:"complete"` // false: it was stopped before every file was read
}

// SeamMM is the seam allowance of quilting, a quarter of an inch: cut size =
// finished size + 1/2 in ("Allowing for allowances", quilting lesson; finished
// 3 -> 3 1/2, finished 6 -> 6 1/2 in).
const SeamMM = 6.35

// Settings say how much is to be made, and of what. Start from
// DefaultGatherSettings.
type Settings struct {
	Blocks         int     `json:"blocks"`          // how many of each design that has no count of its own
	Reserve        float64 `json:"reserve"`         // thread bought beyond the estimate, share
	SpoolM         float64 `json:"spool_m"`         // thread on one spool
	ClothWidthMM   float64 `json:"cloth_width_mm"`  // of the cloth that things are cut from
	SittingMinutes float64 `json:"sitting_minutes"` // how long a person sits at a time
	StabiliserMM   float64 `json:"stabiliser_mm"`   // how far stabiliser reaches past the hoop's field
	Columns        int     `json:"columns"`         // blocks joined side by side; 0: not joined
	Rows           int     `json:"rows"`            // and one above the other
	SeamMM         float64 `json:"seam_mm"`         // seam allowance at each edge of a block
	HoopingMinutes float64 `json:"hooping_minutes"` // to hoop the stabiliser for one block, and take it out
	Hoops          int     `json:"hoops"`           // hoops of one size that can be sewn in turn
	SwapSeconds    float64 `json:"swap_seconds"`    // to take one hoop off the machine and put another on
}

// DefaultSettings are one block from common spools and cloth. Reserve:
// sewing rooms add 10 to 15 %. Quilting cotton is 1100 mm wide or a little more.
// Stabiliser reaches an inch past the field, to be held by the hoop. Hooping takes 3 to
// 5 minutes a block, changing a hoop for another 15 to 30 s (common practice, no single
// source).
func DefaultSettings() Settings {
	return Settings{Blocks: 1, Reserve: 0.1, SpoolM: 500, ClothWidthMM: 1100, SittingMinutes: 60, StabiliserMM: 25.4, SeamMM: SeamMM, HoopingMinutes: 4, Hoops: 1, SwapSeconds: 20}
}

// Gathering is what to have at hand, and how long it will take.
type Gathering struct {
	Settings Settings `json:"settings"`
	Designs  []string `json:"designs"` // paths of the reports that were added up
	Counts   []int    `json:"counts"`  // blocks of each

	Threads       []ThreadNeed `json:"threads"`         // top thread, by colour
	BobbinThreadM float64      `json:"bobbin_thread_m"` // as estimated, without the reserve
	Bobbins       int          `json:"bobbins"`         // full ones, with the reserve
	Cloths        []ClothNeed  `json:"cloths"`          // by kind and size
	Lengths       []ClothCut   `json:"lengths"`         // how much of each kind of cloth to buy

	Minutes  float64   `json:"minutes"`         // at the machine, with hand work and hooping
	Machine  float64   `json:"machine_minutes"` // of that, while the machine sews and trims
	Hands    float64   `json:"hand_minutes"`    // and while hands change thread, lay and cut, hooping apart
	Sittings []Sitting `json:"sittings"`
	Order    Order     `json:"order"`  // of the work, so that threads are changed least
	Joined   *Joined   `json:"joined"` // nil unless blocks are joined
}

// ClothNeed is so many rectangles of one size.
type ClothNeed struct {
	Design   string  `json:"design"`
	Kind     string  `json:"kind"`  // as Cloth.Kind, or "stabiliser"
	Piece    int     `json:"piece"` // number of the applique piece, 0 for none
	Count    int     `json:"count"`
	WidthMM  float64 `json:"width_mm"`
	HeightMM float64 `json:"height_mm"`
	Cloth    string  `json:"cloth"` // what the notes say it is cut from; empty where they do not
}

// ClothCut is how much of a cloth of the set width is needed to cut everything
// of one kind from it.
type ClothCut struct {
	Kind     string  `json:"kind"`
	Piece    int     `json:"piece"` // of this piece alone, if each has a cloth of its own; 0 for all
	Design   string  `json:"design"`
	Count    int     `json:"count"`
	LengthMM float64 `json:"length_mm"` // along the selvedge
	Eighths  int     `json:"eighths"`   // of a yard to ask for: rounded up
	TooWide  int     `json:"too_wide"`  // rectangles that the cloth is too narrow for, either way round
	Cloth    string  `json:"cloth"`     // of all pieces that the notes cut from this; empty for others
}

// Sitting is one stay at the machine. It ends after a colour stop, when the next
// one would not fit in.
type Sitting struct {
	Design    string  `json:"design"` // where it begins
	FromBlock int     `json:"from_block"`
	FromStop  int     `json:"from_stop"`
	ToDesign  string  `json:"to_design"` // and where it ends
	ToBlock   int     `json:"to_block"`
	ToStop    int     `json:"to_stop"`
	Minutes   float64 `json:"minutes"`
}

// Wanted is a design and how many blocks of it are to be made; Count 0 stands for
// Settings.Blocks.
type Wanted struct {
	Report *report.Report
	Count  int
}

// All wants Settings.Blocks of each report.
func All(reports []*report.Report) []Wanted {
	var out []Wanted
	for _, r := range reports {
		out = append(out, Wanted{Report: r})
	}
	return out
}

// Gather adds up what the designs need. The reports must come from Run with the same s.
// It does not change them.
func Gather(designs []Wanted, s report.Settings, g Settings) *Gathering {
	g.Blocks = max(g.Blocks, 0)
	out := &Gathering{Settings: g, Designs: []string{}, Counts: []int{}, Threads: []ThreadNeed{}, Cloths: []ClothNeed{}, Lengths: []ClothCut{}, Sittings: []Sitting{}}
	designs = slices.Clone(designs)
	for i := range designs {
		d := &designs[i]
		if d.Count <= 0 {
			d.Count = g.Blocks
		}
		r, n := d.Report, float64(d.Count)
		out.Designs, out.Counts = append(out.Designs, r.Path), append(out.Counts, d.Count)
		out.addThreads(r, n, len(designs) > 1)
		out.BobbinThreadM += r.BobbinThreadM * n
		if len(r.Stops) > 0 {
			out.Minutes += (r.Minutes + g.HoopingMinutes) * n
			out.Machine, out.Hands = out.Machine+r.MachineMin*n, out.Hands+r.HandMin*n
		}
		for _, c := range r.Cloths {
			out.addCloth(ClothNeed{r.Path, c.Kind, c.Piece, d.Count, c.WidthMM, c.HeightMM, clothOf(r, c.Piece)})
		}
		w, h := s.HoopWidthMM, s.HoopHeightMM
		if w <= 0 || h <= 0 {
			w, h = r.WidthMM, r.HeightMM
		}
		out.addCloth(ClothNeed{r.Path, "stabiliser", 0, d.Count, w + 2*g.StabiliserMM, h + 2*g.StabiliserMM, ""})
	}
	out.nameThreads()
	out.buyThreads(s.Threads)
	out.Bobbins = wholes(out.BobbinThreadM*(1+g.Reserve), s.BobbinM)
	out.lengths()
	out.Order = orderOf(designs, g, s.StopSeconds)
	out.Sittings = sittings(designs, out.Order.Designs, g)
	if g.Columns > 0 && g.Rows > 0 && len(designs) > 0 {
		out.Joined = joined(designs, g)
	}
	return out
}

// clothOf is what the notes say a piece is cut from.
func clothOf(r *report.Report, piece int) string {
	for i := range r.Pieces {
		if p := &r.Pieces[i]; piece > 0 && p.Number == piece {
			return p.Cloth
		}
	}
	return ""
}

// wholes is how many full ones of size hold amount.
func wholes(amount, size float64) int {
	if amount <= 0 || size <= 0 {
		return 0
	}
	return int(math.Ceil(amount/size - 1e-9))
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

// lengths lays out each kind of cloth: everything of the kind together, then what the
// notes cut from one cloth, whatever the design, and each other applique piece alone,
// since most have a cloth of their own.
func (g *Gathering) lengths() {
	rects := map[ClothCut][]Rect{}
	gathered := func(key func(ClothNeed) (ClothCut, bool)) {
		var cuts []ClothCut
		for _, c := range g.Cloths {
			k, ok := key(c)
			if !ok {
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
			r := rects[k]
			length, placed := PackShelves(r, g.Settings.ClothWidthMM)
			k.Count, k.LengthMM, k.TooWide = len(r), length, len(r)-len(placed)
			k.Eighths = words.Eighths(length)
			g.Lengths = append(g.Lengths, k)
		}
	}
	allNoted := !slices.ContainsFunc(g.Cloths, func(c ClothNeed) bool { return c.Piece > 0 && c.Cloth == "" })
	gathered(func(c ClothNeed) (ClothCut, bool) { return ClothCut{Kind: c.Kind}, c.Piece == 0 || !allNoted })
	gathered(func(c ClothNeed) (ClothCut, bool) { return ClothCut{Kind: c.Kind, Cloth: c.Cloth}, c.Cloth != "" })
	gathered(func(c ClothNeed) (ClothCut, bool) {
		return ClothCut{Kind: c.Kind, Piece: c.Piece, Design: c.Design}, c.Piece > 0 && c.Cloth == ""
	})
}

// sittings shares the work out, the designs in the order of work. A colour stop is never
// parted, so one that is longer than a sitting makes the sitting longer.
func sittings(designs []Wanted, order []int, g Settings) []Sitting {
	out := []Sitting{}
	var now *Sitting
	for _, d := range order {
		r := designs[d].Report
		for block := 1; block <= designs[d].Count; block++ {
			for i := range r.Stops {
				stop := &r.Stops[i]
				minutes := stop.Minutes
				if i == 0 {
					minutes += g.HoopingMinutes
				}
				if now == nil || now.Minutes+minutes > g.SittingMinutes+1e-9 {
					out = append(out, Sitting{Design: r.Path, FromBlock: block, FromStop: stop.Number})
					now = &out[len(out)-1]
				}
				now.ToDesign, now.ToBlock, now.ToStop = r.Path, block, stop.Number
				now.Minutes += minutes
			}
		}
	}
	return out
}
