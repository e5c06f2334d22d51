package render

import (
	"math"
	"strconv"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// mostOnPath bounds the points of one stop's line; no design sold has a stop of as many
// stitches. A page with more no phone would open.
const mostOnPath = 1 << 17

// stopPath is the line that a stop sews, as SVG path data in 0.1 mm with Y down
// and the report's origin. Of the stitches of an absurd stop, so many are left out that
// there are no more than mostOnPath beside those where thread starts and ends.
func stopPath(d *stitchfile.Design, r *report.Report, s *report.Stop) string {
	place := func(m stitchfile.Move) (x, y int) {
		return int(math.Round(float64(m.X) - r.CentreX)), -int(math.Round(float64(m.Y) - r.CentreY))
	}
	var out []byte
	down, drawn := false, false // drawn: the last command was a line
	var fromX, fromY int
	moves := d.Moves[s.First:s.Last]
	every := 1 + max(0, s.Stitches-1)/mostOnPath
	for i, m := range moves {
		if m.Kind != stitchfile.Stitch {
			down = false
			continue
		}
		if down && i%every != 0 && i+1 < len(moves) && moves[i+1].Kind == stitchfile.Stitch {
			continue
		}
		x, y := place(m)
		switch {
		case !down:
			out = append(out, 'M')
			out = pathPair(out, x, y)
		case x != fromX || y != fromY:
			if drawn && x >= fromX {
				out = append(out, ' ')
			} else if !drawn {
				out = append(out, 'l')
			}
			out = pathPair(out, x-fromX, y-fromY)
		}
		drawn = down && (drawn || x != fromX || y != fromY)
		fromX, fromY, down = x, y, true
	}
	return string(out)
}

// pathPair writes two numbers; a minus sign parts them as well as a space does.
func pathPair(out []byte, x, y int) []byte {
	out = strconv.AppendInt(out, int64(x), 10)
	if y >= 0 {
		out = append(out, ' ')
	}
	return strconv.AppendInt(out, int64(y), 10)
}
