package geom

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Polyline is a line as JSON holds it: text in the manner of SVG's points, such as
// "0,0 12.5,-3", in mm.
type Polyline []Point

// MarshalText writes the line's points.
func (l Polyline) MarshalText() ([]byte, error) {
	out := make([]byte, 0, 16*len(l))
	for i, q := range l {
		if s := q.X + q.Y; math.IsNaN(s) || math.IsInf(s, 0) {
			return nil, fmt.Errorf("point %d of a line is no place: %v", i, q)
		}
		if i > 0 {
			out = append(out, ' ')
		}
		out = strconv.AppendFloat(out, q.X, 'f', -1, 64)
		out = append(out, ',')
		out = strconv.AppendFloat(out, q.Y, 'f', -1, 64)
	}
	return out, nil
}

// UnmarshalText reads what MarshalText wrote.
func (l *Polyline) UnmarshalText(text []byte) error {
	*l = nil
	for i, pair := range strings.Fields(string(text)) {
		x, y, ok := strings.Cut(pair, ",")
		a, err1 := strconv.ParseFloat(x, 64)
		b, err2 := strconv.ParseFloat(y, 64)
		if !ok || err1 != nil || err2 != nil || math.IsNaN(a+b) || math.IsInf(a+b, 0) {
			return fmt.Errorf("point %d of a line: expected two numbers such as 12.5,-3, got %q", i, pair)
		}
		*l = append(*l, Point{a, b})
	}
	return nil
}

// Rounded is a line with its points rounded to a micrometre: further digits are
// noise, and long to write.
func Rounded(line []Point) Polyline {
	out := make(Polyline, len(line))
	for i, q := range line {
		out[i] = Point{math.Round(q.X*1000) / 1000, math.Round(q.Y*1000) / 1000}
	}
	return out
}
