package analyse

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/satin"
	"github.com/stopcard/stopcard/analyse/stitches"
)

// What all else rests on: the passages of a design, and its columns with their coverage.
func BenchmarkPassages(b *testing.B) {
	for _, c := range textures(b) {
		total := 0
		var sewn []*stitches.Sewn
		for _, d := range c.designs {
			total += d.Counts().Stitches
			s, err := stitches.Sew(b.Context(), d)
			if err != nil {
				b.Fatal(err)
			}
			sewn = append(sewn, s)
		}
		if total == 0 {
			continue
		}
		b.Run("sew/"+c.name, func(b *testing.B) {
			perStitch(b, total, func() {
				for _, d := range c.designs {
					if _, err := stitches.Sew(b.Context(), d); err != nil {
						b.Fatal(err)
					}
				}
			})
		})
		b.Run("columns/"+c.name, func(b *testing.B) {
			perStitch(b, total, func() {
				for _, s := range sewn {
					if _, err := satin.Find(b.Context(), s); err != nil {
						b.Fatal(err)
					}
				}
			})
		})
	}
}
