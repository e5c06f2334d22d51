package analyse

import (
	"context"
	"maps"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stopcard/stopcard/analyse/internal/watch"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// absurd designs are such as no digitiser makes and a damaged or hostile file
// may hold. Each must be analysed without a panic, in work that grows with its
// stitches; how long they take is seen in BenchmarkAbsurd.
func absurd(n int) map[string]*stitchfile.Design {
	rnd := rand.New(rand.NewPCG(1, 2))
	build := func(at func(i int) (x, y float64), kind func(i int) stitchfile.Kind) *stitchfile.Design {
		d := &stitchfile.Design{Claims: stitchfile.NoClaims}
		for i := range n {
			x, y := at(i)
			d.Moves = append(d.Moves, stitchfile.Move{X: int32(x * 10), Y: int32(y * 10), Kind: kind(i)})
		}
		return d
	}
	sewn := func(int) stitchfile.Kind { return stitchfile.Stitch }
	every := func(k int, kind stitchfile.Kind) func(int) stitchfile.Kind {
		return func(i int) stitchfile.Kind {
			if i%k == k-1 {
				return kind
			}
			return stitchfile.Stitch
		}
	}
	circle := func(r float64, points int) func(int) (float64, float64) {
		return func(i int) (float64, float64) {
			s, c := math.Sincos(2 * math.Pi * float64(i%points) / float64(points-2))
			return r * c, r * s
		}
	}
	var wx, wy float64
	out := crowds(n)
	maps.Copy(out, map[string]*stitchfile.Design{
		"one hole":        build(func(int) (float64, float64) { return 0, 0 }, sewn),
		"to and fro":      build(func(i int) (float64, float64) { return float64(i%2) * 5, 0 }, sewn),
		"far and wide":    build(func(i int) (float64, float64) { return rnd.Float64() * 1e5, rnd.Float64() * 1e5 }, sewn),
		"small scribble":  build(func(i int) (float64, float64) { return rnd.Float64() * 5, rnd.Float64() * 5 }, sewn),
		"drunken walk":    build(func(i int) (float64, float64) { wx += rnd.NormFloat64(); wy += rnd.NormFloat64(); return wx, wy }, sewn),
		"stops only":      build(circle(20, 40), every(2, stitchfile.ColourStop)),
		"stacked circles": build(circle(20, 42), every(42, stitchfile.ColourStop)),
		"round and round": build(circle(20, 42), sewn),
		"cut circles":     build(circle(20, 42), every(42, stitchfile.Trim)),
		"thick satin":     build(func(i int) (float64, float64) { return float64(i%1000) * 0.2, float64(i%2) * 4 }, sewn),
		"satin in stops":  build(func(i int) (float64, float64) { return float64(i%1000) * 0.2, float64(i%2) * 4 }, every(50, stitchfile.ColourStop)),
	})
	return out
}

// mostWork bounds the steps that n stitches may take, however they are sewn: so many
// each, and what comparisons cost that are given up in the end. Looking at every pair
// of stitches, or of lines, of absurdSize would take more.
func mostWork(n int) int64 { return 60e6 + 1000*int64(n) }

const absurdSize = 20_000

func TestAbsurd(t *testing.T) {
	wholeOnly(t)
	for name, d := range absurd(absurdSize) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			ctx, steps := watch.Counting(context.Background())
			r, err := Run(ctx, d, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if want := d.Counts().Stitches; r.Stitches != want {
				t.Errorf("%d stitches, want %d", r.Stitches, want)
			}
			for _, f := range r.Findings {
				if math.IsNaN(f.Measured) || math.IsInf(f.Measured, 0) {
					t.Errorf("%s measures %v", f.Rule, f.Measured)
				}
			}
			if got, most := steps.Load(), mostWork(len(d.Moves)); got > most {
				t.Errorf("it took %d steps, more than %d", got, most)
			}
		})
	}
}

func BenchmarkAbsurd(b *testing.B) {
	for name, d := range absurd(absurdSize) {
		b.Run(name, func(b *testing.B) {
			perStitch(b, d.Counts().Stitches, func() { mustRun(d, report.DefaultSettings()) })
		})
	}
}
