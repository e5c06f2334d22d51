package applique

import (
	"context"

	"github.com/stopcard/stopcard/analyse/stitches"
	"github.com/stopcard/stopcard/stitchfile"
)

// Of is what was recognised, of another file of the same stitches: as formats of one size
// are. It is nil for a file in which the needle goes elsewhere, or thread is cut or changed
// elsewhere. What a person said of the first file is in it. The only error is that of a
// context that ended.
func (r *Recognised) Of(ctx context.Context, d *stitchfile.Design) (*Recognised, error) {
	if d.Counts().Stitches != r.Sewn.Stitches() {
		return nil, nil
	}
	sewn, err := stitches.Sew(ctx, d)
	if err != nil || !sewn.Same(r.Sewn) {
		return nil, err
	}
	out := *r
	out.Sewn = sewn
	return &out, nil
}
