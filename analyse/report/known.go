package report

// NotesUsed tells which notes go with a design, and how.
type NotesUsed struct {
	Path    string `json:"path"`
	Fit     string `json:"fit"`     // "same stitches", "another size", "not bound" or "another design"; the last is not used
	Message string `json:"message"` // what to know about that, in words; empty: nothing
	Look    bool   `json:"look"`    // something that was noted is not used: look at Message
}

// OwnThread is one thread in a person's box.
type OwnThread struct {
	Name   string   `json:"name"`
	Colour string   `json:"colour"`           // "#rrggbb"
	Weight float64  `json:"weight,omitempty"` // weight number; 0: as in Settings
	LeftM  *float64 `json:"left_m,omitempty"` // metres left; nil: enough
}

// Nearness says how near a thread comes to the colour of a design.
type Nearness string

const (
	NearSame  Nearness = "same"  // not to be told apart on cloth
	NearClose Nearness = "close" // another shade, seen side by side
	NearOff   Nearness = "off"   // another colour
	NearNoted Nearness = "noted" // the notes say so, whatever its colour
)

// Spool is the thread of one's own that comes nearest to that of a colour stop.
type Spool struct {
	Name       string   `json:"name"`
	Colour     string   `json:"colour"`     // "#rrggbb"
	Difference float64  `json:"difference"` // CIEDE2000; 0 where the file has no colour
	Near       Nearness `json:"near"`
	Shared     bool     `json:"shared"` // it stands for another colour beside this one too, for want of a further one
}

// SpoolUse is what a design takes of one thread of one's own.
type SpoolUse struct {
	Name   string   `json:"name"`
	Colour string   `json:"colour"` // "#rrggbb"
	Stops  []int    `json:"stops"`  // that take it
	NeedM  float64  `json:"need_m"` // of top thread
	LeftM  *float64 `json:"left_m"` // nil: enough
}

// Short is how many metres of it are missing, 0 for none.
func (s *SpoolUse) Short() float64 {
	if s.LeftM == nil {
		return 0
	}
	return max(0, s.NeedM-*s.LeftM)
}

// ThreadText says which thread a stop takes, in the words of all cards, pages and
// lists: as noted, or by its colour with the file's own name and number, and with the
// nearest of one's own. It is empty where nothing is known.
func (s *Stop) ThreadText() string {
	var text string
	switch {
	case s.ThreadNoted:
		return s.ThreadName
	case s.ColourName != nil:
		text = *s.ColourName
		if s.ThreadName != "" && s.ThreadName != text {
			text += " (" + s.ThreadName + ")"
		}
		if s.ThreadNumber != "" {
			text += ", no. " + s.ThreadNumber
		}
	}
	if s.Spool != nil {
		if text != "" {
			text += ": "
		}
		text += s.Spool.Text()
	}
	return text
}

// Text says which of one's own threads it is, and how near.
func (s *Spool) Text() string {
	switch s.Near {
	case NearOff:
		return "none of yours is near, " + s.Name + " is nearest"
	case NearClose:
		return "your " + s.Name + " is close"
	}
	return "your " + s.Name
}
