package stitchfile

import (
	"encoding/json"
	"fmt"
	"image/color"
)

// threadJSON is a Thread as JSON.
type threadJSON struct {
	Colour    *string `json:"colour"` // "#rrggbb", null where the file has none
	Name      string  `json:"name"`
	Catalogue string  `json:"catalogue"`
	Maker     string  `json:"maker"`
	Index     int     `json:"index"`
	Weight    int     `json:"weight"`
}

// MarshalJSON writes the thread as an object with colour ("#rrggbb" or null), name,
// catalogue, maker, index and weight.
func (t Thread) MarshalJSON() ([]byte, error) {
	out := threadJSON{Name: t.Name, Catalogue: t.Catalogue, Maker: t.Maker, Index: t.Index, Weight: t.WeightClass}
	if t.HasColour() {
		hex := fmt.Sprintf("#%02x%02x%02x", t.Colour.R, t.Colour.G, t.Colour.B)
		out.Colour = &hex
	}
	return json.Marshal(out)
}

// UnmarshalJSON reads what MarshalJSON wrote. A colour that is none is an error.
func (t *Thread) UnmarshalJSON(text []byte) error {
	var in threadJSON
	if err := json.Unmarshal(text, &in); err != nil {
		return err
	}
	*t = Thread{Name: in.Name, Catalogue: in.Catalogue, Maker: in.Maker, Index: in.Index, WeightClass: in.Weight}
	if in.Colour != nil {
		c := color.RGBA{A: 255}
		if n, err := fmt.Sscanf(*in.Colour, "#%02x%02x%02x", &c.R, &c.G, &c.B); n != 3 || err != nil || len(*in.Colour) != 7 {
			return fmt.Errorf("thread colour %q: expected #rrggbb", *in.Colour)
		}
		t.Colour = c
	}
	return nil
}
