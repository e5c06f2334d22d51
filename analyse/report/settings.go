package report

// Settings are what a person may change about an analysis. Start from
// DefaultSettings.
type Settings struct {
	SpeedPerMinute  float64 `json:"speed_per_minute"`  // stitches a minute
	StopSeconds     float64 `json:"stop_seconds"`      // cost of one colour stop: changing the thread
	TrimSeconds     float64 `json:"trim_seconds"`      // cost of one trim by the machine
	LaySeconds      float64 `json:"lay_seconds"`       // laying one cloth
	CutSeconds      float64 `json:"cut_seconds"`       // trimming one applique piece by hand, hoop off and on
	ThreadWeight    float64 `json:"thread_weight"`     // weight number, km per kg
	Flattening      float64 `json:"flattening"`        // laid width over thread diameter
	StackMM         float64 `json:"stack_mm"`          // thickness of the cloth stack sewn through
	NeedleShare     float64 `json:"needle_share"`      // needle thread's share of all thread, 0 to 1
	TailMM          float64 `json:"tail_mm"`           // thread lost at each cut, of each thread
	BobbinM         float64 `json:"bobbin_m"`          // thread on one bobbin
	TrimAllowanceMM float64 `json:"trim_allowance_mm"` // how far outside the tack-down scissors may leave the cloth
	Corners         string  `json:"corners"`           // how scissors turn a corner: SharpCorners or RoundCorners
	ClothMarginMM   float64 `json:"cloth_margin_mm"`   // how far cloth reaches past the line it is laid over
	BattingMarginMM float64 `json:"batting_margin_mm"` // the same for batting and backing
	HoopWidthMM     float64 `json:"hoop_width_mm"`     // 0: no hoop given
	HoopHeightMM    float64 `json:"hoop_height_mm"`

	// Units says in which units people are told lengths: "mm", "inch" or "both", which
	// the empty text stands for. Figures of reports are in mm whatever it says.
	Units string `json:"units"`

	// Only names the rules to look at, all where it is empty; Skip names those to
	// leave out.
	Only []string `json:"only,omitempty"`
	Skip []string `json:"skip,omitempty"`

	// Threads are the person's own, to take the nearest of; none: colours go by
	// their words.
	Threads []OwnThread `json:"threads,omitempty"`

	// Limits holds the person's own limits by name; see Limits for those in
	// force otherwise.
	Limits map[string]float64 `json:"limits,omitempty"`
}

// How scissors turn the corner of a piece: on along each side until the cuts meet,
// or round it at the trim allowance. Scissors cut straight on; a rotary knife or a
// careful hand may go round.
const (
	SharpCorners = "sharp"
	RoundCorners = "round"
)

// DefaultSettings are usual values of home embroidery. Speed: home machines run
// at 400 to 800 stitches a minute. A colour stop takes 20 to 60 s by hand, a
// trim 6 to 20 s by machine, laying cloth 20 to 60 s, trimming a piece 1 to
// 4 min (common practice, no single source). Thread: 40 wt laid 1.6 times its
// Peirce diameter wide. The share 5 : 3 of needle to bobbin thread is that of
// thread makers' 5 m and 3 m a thousand stitches. A ready-wound bobbin holds
// 119 to 141 m; 100 m leaves a rest.
func DefaultSettings() Settings {
	return Settings{
		SpeedPerMinute:  600,
		StopSeconds:     40,
		TrimSeconds:     8,
		LaySeconds:      40,
		CutSeconds:      120,
		ThreadWeight:    40,
		Flattening:      1.6,
		StackMM:         0.5,
		NeedleShare:     5.0 / 8,
		TailMM:          30,
		BobbinM:         100,
		TrimAllowanceMM: 1,
		Corners:         SharpCorners,
		ClothMarginMM:   12.7,
		BattingMarginMM: 19,
		Units:           "both",
	}
}
