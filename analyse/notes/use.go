package notes

import (
	"fmt"
	"path"
	"slices"

	"github.com/stopcard/stopcard/analyse/words"
)

// Use is what notes say of one design: the notes with their stops found in it.
type Use struct {
	Notes *Notes
	Fit   Fit

	// Stops has what is said of a stop by its number in the design. Roles that
	// were left as Stopcard inferred them are not said.
	Stops map[int]Stop
	// Pieces are as in the notes, with AtMM in the design's own size.
	Pieces []Piece
	// Left are the stops of the notes that have no like in the design though
	// something is said of them.
	Left []int

	sameBox bool // of another size only by its stitches
}

// For finds the stops that the notes speak of in a design, by its sign. named tells
// that the notes go by the design's name or were given for it, which decides where
// stitches alone do not. Notes that are for another design give a Use without stops;
// a stop that is in no design the notes could be for is an *Error.
func (n *Notes) For(d Sign, named bool) (*Use, error) {
	u := &Use{Notes: n, Fit: Unbound, Stops: map[int]Stop{}}
	stops, scale, count := []int(nil), 1.0, len(d.Stops)
	if n.Design != nil {
		own := n.Design.Sign
		u.Fit, stops = own.Against(d, named)
		u.sameBox = within(own.Width, d.Width, sameBox) && within(own.Height, d.Height, sameBox)
		count = len(own.Stops)
		if size := max(own.Width, own.Height); u.Fit == OtherSize && size > 0 {
			scale = float64(max(d.Width, d.Height)) / float64(size)
		}
	}
	for _, s := range n.Stops {
		if s.Number > count {
			return nil, &Error{Path: n.Path, Line: s.Line, Problem: fmt.Sprintf("there is no stop %d", s.Number), Expected: upTo(count, "colour stop")}
		}
		if n.Design != nil && len(n.Design.ReadAs) >= s.Number && n.Design.ReadAs[s.Number-1] == s.Role {
			s.Role = ""
		}
		said := s.Role != "" || s.Thread != "" || s.Note != ""
		at := s.Number
		if stops != nil {
			at = stops[s.Number]
		}
		switch {
		case u.Fit == NoFit || !said:
		case at == 0:
			u.Left = append(u.Left, s.Number)
		default:
			u.Stops[at] = s
		}
	}
	if u.Fit == NoFit {
		return u, nil
	}
	for _, k := range n.Pieces {
		if k.AtMM != nil {
			k.AtMM = &[2]float64{k.AtMM[0] * scale, k.AtMM[1] * scale}
		}
		if !k.Applique || k.Cloth != "" || k.Note != "" {
			u.Pieces = append(u.Pieces, k)
		}
	}
	return u, nil
}

func upTo(n int, what string) string {
	switch n {
	case 0:
		return "none: the design has no " + what
	case 1:
		return "1: the design has one " + what
	}
	return fmt.Sprintf("1 to %d: the design has %s", n, words.Plural(n, what, what+"s"))
}

// Roles gives the roles that a person noted, by the index of the stop.
func (u *Use) Roles() map[int]string {
	out := map[int]string{}
	for number, s := range u.Stops {
		if s.Role != "" {
			out[number-1] = s.Role
		}
	}
	return out
}

// Message says how the notes go with the design, in words; it is empty where they
// are simply its own.
func (u *Use) Message() string {
	file := path.Base(u.Notes.Path)
	switch u.Fit {
	case NoFit:
		return fmt.Sprintf("the notes in %s are for another design, or for an edition of it with other stitches: they are not used", file)
	case Unbound:
		return fmt.Sprintf("the notes in %s do not say which stitches they are for; they are taken for these ('stopcard notes --update' binds them)", file)
	case OtherSize:
		own := u.Notes.Design.Sign
		text := fmt.Sprintf("the notes in %s were written for %.1f x %.1f mm and are used for this size too", file, float64(own.Width)/10, float64(own.Height)/10)
		here := "of this size"
		if u.sameBox {
			text, here = fmt.Sprintf("the notes in %s were written for other stitches of this size and are used for these too", file), "here"
		}
		if len(u.Left) > 0 {
			slices.Sort(u.Left)
			text += fmt.Sprintf(", but for those on %s: no stop %s is like it", words.ListStops(u.Left), here)
		}
		return text
	}
	return ""
}
