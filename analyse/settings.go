package analyse

// Settings are what a person may change about an analysis. Start from
// DefaultSettings.
type Settings struct {
	SpeedPerMinute float64 `json:"speed_per_minute"` // stitches a minute
	StopSeconds    float64 `json:"stop_seconds"`     // cost of one colour stop
	TrimSeconds    float64 `json:"trim_seconds"`     // cost of one trim
	ThreadWeight   float64 `json:"thread_weight"`    // weight number, km per kg
	Flattening     float64 `json:"flattening"`       // laid width over thread diameter
	StackMM        float64 `json:"stack_mm"`         // thickness of the cloth stack sewn through
	NeedleShare    float64 `json:"needle_share"`     // needle thread's share of all thread, 0 to 1
	TailMM         float64 `json:"tail_mm"`          // thread lost at each cut, of each thread
	LongStitchMM   float64 `json:"long_stitch_mm"`   // limit of rule long-stitch
	HoopWidthMM    float64 `json:"hoop_width_mm"`    // 0: no hoop given
	HoopHeightMM   float64 `json:"hoop_height_mm"`
}

// DefaultSettings are usual values of home embroidery. Speed: home machines run
// at 400 to 800 stitches a minute. A colour stop takes 20 to 60 s by hand, a
// trim 6 to 20 s by machine (common practice, no single source). Thread: 40 wt
// laid 1.6 times its Peirce diameter wide. The share 5 : 3 of needle to bobbin
// thread is that of thread makers' 5 m and 3 m a thousand stitches.
func DefaultSettings() Settings {
	return Settings{
		SpeedPerMinute: 600,
		StopSeconds:    40,
		TrimSeconds:    8,
		ThreadWeight:   40,
		Flattening:     1.6,
		StackMM:        0.5,
		NeedleShare:    5.0 / 8,
		TailMM:         30,
		LongStitchMM:   9,
	}
}
