package render

import (
	"image"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

var threadView = View{
	Name: "thread",
	Doc:  "the design as it will look sewn, thread by thread",
	Draw: single(func(d *stitchfile.Design, r *report.Report, o Options) Picture {
		s := newSheet(d, r, o, foot{})
		sew(s.img.SubImage(s.field).(*image.RGBA), s.place, d, r, ThreadOptions{Laid: o.LaidMM})
		return s.picture()
	}),
}
