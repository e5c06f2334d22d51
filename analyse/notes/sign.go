package notes

import (
	"encoding/base64"
	"encoding/binary"
	"errors"
	"math"

	"github.com/stopcard/stopcard/stitchfile"
)

// Sign is what tells the stitches of one design from those of another: for each
// colour stop how many needle points it has, how long the way through them is, and
// where they lie. Colours, trims, jumps and halts are no part of it, nor is where
// the design lies, so all formats of one size have one sign, but for what their
// roundings change.
type Sign struct {
	Width, Height int // of the box round all needle points, 0.1 mm
	Stops         []StopSign
}

// StopSign is a colour stop's part of a Sign. Places are in steps of 0.5 mm from the
// middle of the box round all needle points.
type StopSign struct {
	Points           int
	PathMM           int // through its needle points, with the needle up or down
	MeanX, MeanY     int // of its needle points
	SpreadX, SpreadY int // their standard deviation
}

const (
	signStep = 0.5 // mm
	signKind = "1" // of the writing, before the first dot

	// mostSignStops bounds a sign; a design with more stops is damaged or no
	// embroidery.
	mostSignStops = 400
	mostSignText  = 1 << 16
)

// SignOf works out the sign of a design. Stops that sew nothing do not count, as in
// reports.
func SignOf(d *stitchfile.Design) Sign {
	box, ok := d.Bounds()
	if !ok {
		return Sign{}
	}
	s := Sign{Width: int(box.Width()), Height: int(box.Height())}
	cx, cy := (float64(box.MinX)+float64(box.MaxX))/2, (float64(box.MinY)+float64(box.MaxY))/2
	var n, sx, sy, sxx, syy, path, lastX, lastY float64
	end := func() {
		if n > 0 && len(s.Stops) < mostSignStops {
			mx, my := sx/n, sy/n
			steps := func(v float64) int { return int(math.Round(v / (10 * signStep))) }
			s.Stops = append(s.Stops, StopSign{Points: int(n), PathMM: int(math.Round(path / 10)), MeanX: steps(mx), MeanY: steps(my),
				SpreadX: steps(math.Sqrt(max(0, sxx/n-mx*mx))), SpreadY: steps(math.Sqrt(max(0, syy/n-my*my)))})
		}
		n, sx, sy, sxx, syy, path = 0, 0, 0, 0, 0, 0
	}
	for _, m := range d.Moves {
		switch m.Kind {
		case stitchfile.ColourStop:
			end()
		case stitchfile.Stitch:
			x, y := float64(m.X)-cx, float64(m.Y)-cy
			if n > 0 {
				path += math.Hypot(x-lastX, y-lastY)
			}
			n, sx, sy, sxx, syy, lastX, lastY = n+1, sx+x, sy+y, sxx+x*x, syy+y*y, x, y
		}
	}
	end()
	return s
}

// String writes the sign as one word.
func (s Sign) String() string {
	b := binary.AppendUvarint(nil, uint64(s.Width))
	b = binary.AppendUvarint(b, uint64(s.Height))
	for _, t := range s.Stops {
		for _, v := range []int{t.Points, t.PathMM, t.SpreadX, t.SpreadY} {
			b = binary.AppendUvarint(b, uint64(v))
		}
		b = binary.AppendVarint(b, int64(t.MeanX))
		b = binary.AppendVarint(b, int64(t.MeanY))
	}
	return signKind + "." + base64.RawURLEncoding.EncodeToString(b)
}

var errNoSign = errors.New("this is no sign of a design")

// ParseSign reads what String wrote.
func ParseSign(text string) (Sign, error) {
	if len(text) > mostSignText || len(text) < 2 || text[:2] != signKind+"." {
		return Sign{}, errNoSign
	}
	b, err := base64.RawURLEncoding.DecodeString(text[2:])
	if err != nil {
		return Sign{}, errNoSign
	}
	bad := false
	next := func(signed bool) int {
		const most = 1 << 31
		v, n := binary.Uvarint(b)
		w := int64(v)
		if signed {
			w, n = binary.Varint(b)
		}
		if n <= 0 || w > most || w < -most || !signed && v > most {
			bad, b = true, nil
			return 0
		}
		b = b[n:]
		return int(w)
	}
	s := Sign{Width: next(false), Height: next(false)}
	for len(b) > 0 && len(s.Stops) < mostSignStops {
		t := StopSign{Points: next(false), PathMM: next(false), SpreadX: next(false), SpreadY: next(false)}
		t.MeanX, t.MeanY = next(true), next(true)
		s.Stops = append(s.Stops, t)
	}
	if bad || len(b) > 0 {
		return Sign{}, errNoSign
	}
	return s, nil
}
