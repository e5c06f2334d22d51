package report

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/stitchfile"
)

// Schema names the JSON form of a Document.
const Schema = "stopcard/report/1"

// Document is the top of the JSON output.
type Document struct {
	Schema   string    `json:"schema"`
	Settings Settings  `json:"settings"`
	Designs  []*Report `json:"designs"`

	Unreadable []Unreadable `json:"unreadable"` // files that gave no design
	Complete   bool         `json:"complete"`   // false: it was stopped before every file was read; of one line of check --lines: its design is not whole, or could not be read
}

// Unreadable is a file that gave no design.
type Unreadable struct {
	Path  string `json:"path"`
	Error string `json:"error"`
}

// Report is what is known of one design.
type Report struct {
	Path   string `json:"path"`   // where the design was read from
	Format string `json:"format"` // such as "DST"
	Name   string `json:"name"`   // name inside the file
	Title  string `json:"title"`  // what the notes call it; empty: nothing noted

	WidthMM       float64 `json:"width_mm"`  // box around all penetrations
	HeightMM      float64 `json:"height_mm"` // the same, Y
	Stitches      int     `json:"stitches"`  // needle penetrations
	Jumps         int     `json:"jumps"`     // recorded moves with the needle up
	Trims         int     `json:"trims"`     // cuts between sewn parts of one colour stop
	ColourStops   int     `json:"colour_stops"`
	Minutes       float64 `json:"minutes"`         // machine and hands, see Settings
	MachineMin    float64 `json:"machine_minutes"` // of that, while the machine sews and trims
	HandMin       float64 `json:"hand_minutes"`    // and while hands change thread, lay and cut
	NeedleThreadM float64 `json:"needle_thread_m"` // top thread
	BobbinThreadM float64 `json:"bobbin_thread_m"`

	Bobbins    float64 `json:"bobbins"`      // bobbins of the set length
	NeedleUpMM float64 `json:"needle_up_mm"` // travel with the needle up

	Stops           []Stop           `json:"stops"`
	SatinColumns    []SatinColumn    `json:"satin_columns"`
	Pieces          []Piece          `json:"applique_pieces"`
	Cloths          []Cloth          `json:"cloths"` // what to cut before sewing, in sewing order
	HoldDownOffsets []HoldDownOffset `json:"hold_down_offsets"`
	Density         Density          `json:"density"`
	Resize          *Resize          `json:"resize"`               // nil until it is asked for, see package docs
	ResizedTo       *ResizeEffect    `json:"resized_to,omitempty"` // at the size asked for
	Findings        []Finding        `json:"findings"`             // each cause once, the gravest first
	Damage          *Damage          `json:"damage"`               // what of the file was lost; nil where it was read whole
	Whole           string           `json:"whole"`                // whether the reader saw all of the design: "yes", "no" or "cannot tell"; empty for one that no reader made
	WholeReasons    []string         `json:"whole_reasons"`
	Settings        *Settings        `json:"settings"`     // what it was measured with
	Warnings        []Warning        `json:"warnings"`     // oddities met while reading
	Notes           *NotesUsed       `json:"notes"`        // the notes that go with it; nil: none
	ColoursFrom     string           `json:"colours_from"` // the file whose thread colours these are, since its own has none; empty: its own, if any
	Spools          []SpoolUse       `json:"spools"`       // of the thread box, in the order of need; empty without one

	// Each has the findings one by one, by stop and piece, before those of one cause are
	// told together.
	Each []Finding `json:"-"`

	// Passages are all passages in sewing order; Kinds has one entry for each
	// of Design.Moves.
	Passages []Passage `json:"-"`
	Kinds    KindRuns  `json:"kinds"`

	// CentreX and CentreY place the report's origin in the design's own
	// coordinates, in 0.1 mm.
	CentreX float64 `json:"centre_x"`
	CentreY float64 `json:"centre_y"`
}

// Stop is one colour stop: a part between thread changes or halts that sews at
// least one stitch.
type Stop struct {
	Number        int        `json:"number"`       // from 1, in sewing order
	Colour        *string    `json:"colour"`       // "#rrggbb", or nil where the file has none
	ColourName    *string    `json:"colour_name"`  // everyday words, told apart within the design: see words.ColourNames
	Role          string     `json:"role"`         // one of Roles
	Confidence    float64    `json:"confidence"`   // 0 to 1
	Reason        string     `json:"reason"`       // why that role, in plain words
	NextReading   string     `json:"next_reading"` // what it may be as well and what would decide; empty where nothing is near
	Stitches      int        `json:"stitches"`
	Jumps         int        `json:"jumps"`
	Trims         int        `json:"trims"`
	Minutes       float64    `json:"minutes"`         // of machine and hands
	MachineMin    float64    `json:"machine_minutes"` // of Minutes, what the machine sews and trims; the rest is hand work
	NeedleThreadM float64    `json:"needle_thread_m"`
	BobbinThreadM float64    `json:"bobbin_thread_m"`
	BoundsMM      [4]float64 `json:"bounds_mm"` // min x, min y, max x, max y
	NeedleUpMM    float64    `json:"needle_up_mm"`
	SewnMM        float64    `json:"sewn_mm"` // length of its stitches on the cloth
	Before        []string   `json:"before"`  // what the hands do before it
	After         []string   `json:"after"`   // what the hands do after it
	Parts         []Part     `json:"parts"`   // what it does, where that is more than one thing
	Note          string     `json:"note"`    // the remark in the notes; empty: none

	ThreadName   string `json:"thread_name"`   // what the notes, or else the file, call its thread; empty: nothing
	ThreadNumber string `json:"thread_number"` // the file's own number for its thread, where that means anything; empty: none
	ThreadNoted  bool   `json:"thread_noted"`  // ThreadName is out of the notes
	AnyThread    bool   `json:"any_thread"`    // its colour only makes the machine wait: any thread will do, wash-away or one like the cloth
	Spool        *Spool `json:"spool"`         // the nearest out of the thread box; nil where there is no box, no colour, or no need

	BeforeSteps []Step `json:"before_steps"` // Before, with what each step is
	AfterSteps  []Step `json:"after_steps"`  // After, with what each step is

	// LiesInHoop is what lies in the hoop while this stop is sewn, in the order
	// in which it was laid; empty where no applique is found, since then nobody
	// knows what was hooped.
	LiesInHoop []Lying `json:"lies_in_hoop"`

	Halt bool `json:"halt"` // the file says: a plain halt comes before it, no thread change

	// First and Last bound the stop's moves in Design.Moves: First is
	// included, Last is not.
	First  int               `json:"first_move"`
	Last   int               `json:"last_move"`
	Thread stitchfile.Thread `json:"thread"` // as the file tells it
}

// Severity ranks a Finding.
type Severity string

const (
	Note    Severity = "note"    // worth knowing
	Caution Severity = "warning" // look before you sew
	Fault   Severity = "fault"   // the design will not do its job
)

// AtLeast reports whether s is as grave as limit, or graver.
func (s Severity) AtLeast(limit Severity) bool { return s.Rank() >= limit.Rank() }

// Rank orders severities: 1 for a note to 3 for a fault, 0 for none.
func (s Severity) Rank() int {
	switch s {
	case Fault:
		return 3
	case Caution:
		return 2
	case Note:
		return 1
	}
	return 0
}

// Finding is one thing a rule has to say.
type Finding struct {
	Number   int         `json:"number"` // from 1, the gravest first: its place in Report.Findings
	Rule     string      `json:"rule"`   // kebab-case id, see Rules
	Severity Severity    `json:"severity"`
	Stop     int         `json:"stop"`  // number of the colour stop, the worst of several; 0 for the whole design
	Piece    int         `json:"piece"` // number of the applique piece; 0 where it is of none
	AtMM     *[2]float64 `json:"at_mm"` // where, the worst of several places; nil for no one place
	Measured float64     `json:"measured"`
	Limit    float64     `json:"limit"`
	Unit     string      `json:"unit"`
	Message  string      `json:"message"`
	Advice   string      `json:"advice"`

	// One cause is told once: Stops are all colour stops that it is found in, in order,
	// and Places all places, the worst first.
	Stops  []int        `json:"stops"`
	Places []geom.Place `json:"places_mm"`
}

// Damage tells what became of a file that could be read only in part.
type Damage struct {
	Message string `json:"message"` // what is missing, for the person who would sew it
	Error   string `json:"error"`   // where the reading ended, and what was expected there
	Claimed *int   `json:"claimed"` // stitch records that its header counts; nil where it tells none
	Read    int    `json:"read"`    // stitches that could be read
}

// Partial says, for the person who would sew it, that not all of the design is known to be
// there; empty where it is, and where the file cannot tell.
func (r *Report) Partial() string {
	switch {
	case r.Damage != nil && r.Damage.Message != "":
		return r.Damage.Message
	case r.Damage != nil:
		return "this file is damaged: " + r.Damage.Error
	case r.Whole == "no":
		return "this file may not be whole"
	}
	return ""
}

// Alone fills in Stops and Places of a finding that is about one stop and one place
// at most.
func (f *Finding) Alone() {
	f.Stops, f.Places = []int{}, []geom.Place{}
	if f.Stop > 0 {
		f.Stops = append(f.Stops, f.Stop)
	}
	if f.AtMM != nil {
		f.Places = append(f.Places, *f.AtMM)
	}
}

// NumberFindings puts the gravest first and gives each its number.
func NumberFindings(all []Finding) {
	sort.SliceStable(all, func(i, j int) bool { return all[i].Severity.Rank() > all[j].Severity.Rank() })
	for i := range all {
		all[i].Number = i + 1
		if all[i].Stops == nil {
			all[i].Alone()
		}
	}
}

// Warning is an oddity met while reading, by byte offset, or something that was not
// looked at.
type Warning struct {
	Offset  int64  `json:"offset"` // -1 where it concerns no byte of the file
	Message string `json:"message"`
}

// headerFigures are the figures of a header: how a warning names one that is not of the
// design, and how the finding header-disagrees names it.
var headerFigures = []struct{ warned, found string }{
	{" colour changes, ", " changes, its stitches"},
	{" records, ", " records, its stitches"},
	{" points, ", " records, its stitches"},
	{" stitches, ", " stitches, its stitches"},
	{" by ", " wide, its stitches"},
	{" by ", " high, its stitches"},
}

// Untold are the warnings of which no finding tells: what a header says wrongly is said
// once.
func (r *Report) Untold() []Warning {
	told := func(w Warning) bool {
		// What tells that a file may not be whole, or cannot tell, is told with whether it is.
		if slices.Contains(r.WholeReasons, w.Message) && r.Whole == "no" || r.Whole == "cannot tell" && strings.HasSuffix(w.Message, "cannot be told from a whole one") {
			return true
		}
		if !strings.HasPrefix(w.Message, "header ") {
			return false
		}
		for i := range r.Findings {
			// Of a file that is not all there the header counts more.
			if f := &r.Findings[i]; f.Rule == "damaged-file" && strings.HasPrefix(w.Message, "header counts") {
				return true
			}
			for _, h := range headerFigures {
				if r.Findings[i].Rule == "header-disagrees" && strings.Contains(w.Message, h.warned) && strings.Contains(r.Findings[i].Message, h.found) {
					return true
				}
			}
		}
		return false
	}
	var out []Warning
	for _, w := range r.Warnings {
		if !told(w) {
			out = append(out, w)
		}
	}
	return out
}

// String gives the message, after the byte that it concerns.
func (w Warning) String() string {
	if w.Offset < 0 {
		return w.Message
	}
	return fmt.Sprintf("byte %d: %s", w.Offset, w.Message)
}
