package render

import (
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// The line of a stop goes through every stitch, unless there are absurdly many; then too
// it begins and ends where thread does.
func TestStopPathIsBounded(t *testing.T) {
	for _, n := range []int{1000, mostOnPath, mostOnPath + 1, 3 * mostOnPath} {
		moves := make([]stitchfile.Move, n)
		for i := range moves {
			moves[i] = stitchfile.Move{X: int32(i % 100), Y: int32(i / 100 % 100)}
		}
		cut := n / 2
		moves[cut].Kind = stitchfile.Jump
		s := &report.Stop{Stitches: n - 1, Last: n}
		path := stopPath(&stitchfile.Design{Moves: moves}, &report.Report{}, s)
		points := strings.Count(path, " ") + strings.Count(path, "-") // one of them parts x and y of most
		if n <= mostOnPath && points < n-1 {
			t.Errorf("%d stitches: some are left out of %d", n, points)
		}
		if len(path) > 8*mostOnPath || strings.Count(path, "M") != 2 {
			t.Errorf("%d stitches: a path of %d bytes with %d starts", n, len(path), strings.Count(path, "M"))
		}
		if !strings.HasPrefix(path, "M0 0") {
			t.Errorf("%d stitches: the path begins %.20s", n, path)
		}
	}
}
