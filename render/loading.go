package render

import "github.com/stopcard/stopcard/stitchfile"

// Load reads a design when it is drawn. Where many large ones stand on one page, they
// need not all be held until then.
type Load func() (*stitchfile.Design, error)

// loaded is the design itself where it is at hand, and what load reads where not.
func loaded(d *stitchfile.Design, load Load) (*stitchfile.Design, error) {
	if d != nil || load == nil {
		return d, nil
	}
	return load()
}
