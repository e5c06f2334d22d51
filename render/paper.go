package render

// Paper is a sheet as it is held.
type Paper struct {
	Name              string
	WidthMM, HeightMM float64
}

// The papers of cards and templates, upright: A4 and A5 of ISO 216, North
// American letter (ANSI/ASME Y14.1), and a card for the hand, which is A6 of
// ISO 216.
var (
	A4     = Paper{"A4", 210, 297}
	A5     = Paper{"A5", 148, 210}
	Letter = Paper{"letter", 215.9, 279.4}
	Hand   = Paper{"hand", 105, 148}
)

// Papers are the papers known by name.
func Papers() []Paper { return []Paper{A4, Letter, A5, Hand} }

// Turned is the paper on its other side.
func (p Paper) Turned() Paper { return Paper{p.Name, p.HeightMM, p.WidthMM} }

// orA4 is the paper, or A4 where it has no size.
func (p Paper) orA4() Paper {
	if !(p.WidthMM > 0 && p.HeightMM > 0) {
		return A4
	}
	return p
}
