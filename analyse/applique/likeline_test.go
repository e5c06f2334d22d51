package applique

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// ringAt is a circle that far to the right, 40 mm across.
func ringAt(x float64) st.Path { return st.Circle(st.Point{X: x}, 20) }

func satinOn(b *st.Builder, p st.Path) *st.Builder {
	return b.Satin(p, st.SatinAlong{Width: 4, Pitch: 0.4}).TieOff()
}

// A line sewn twice is seldom a placement line, but where the lines of other pieces are so
// sewn, one whose tack-down was lost is no less sure.
func TestLinesMadeAsThoseOfOthers(t *testing.T) {
	single := func(b *st.Builder, p st.Path) { b.Run(p, 2.5).TieOff() }
	twice := func(b *st.Builder, p st.Path) { b.DoubleRun(p, 2.5).TieOff() }
	bean := func(b *st.Builder, p st.Path) { b.Bean(p, 2.5, 3).TieOff() }
	zigzag := func(b *st.Builder, p st.Path) { b.OpenZigzag(p, 2, 2).TieOff() }
	for _, c := range []struct {
		name         string
		first, other func(b *st.Builder, p st.Path)
		unsure       bool
	}{
		{"all twice", twice, twice, false},
		{"twice beside a single line", single, twice, true},
		{"all single", single, single, false},
		{"a zigzag beside a line sewn twice", twice, zigzag, true},
		{"all bean lines", bean, bean, false},
	} {
		b := new(st.Builder)
		c.first(b, ringAt(0))
		b.Stop().Bean(ringAt(0).Offset(0.4), 2.5, 5).TieOff().Stop()
		satinOn(b, ringAt(0)).Stop()
		c.other(b, ringAt(60))
		satinOn(b.Stop(), ringAt(60))
		w := recognised(t, b.Design()).Pieces
		if len(w) != 2 || !w[1].PreCut || w[1].MayBePlain() != c.unsure {
			t.Errorf("%s: %d pieces, want two, the second without a tack-down and unsure: %v", c.name, len(w), c.unsure)
		}
	}
}

// A line made as the tack-downs of other pieces is that of a piece whose own line was lost, the
// more so where it is sewn with them, and not where it follows a line itself.
func TestTackDownWithoutItsLine(t *testing.T) {
	line := &Trace{Stop: 1, Kind: report.KindOpenZigzag}
	m := &manner{stops: map[[2]int]int{{0, 1}: 1}}
	m.tacks[zigzag], m.lines[single] = 1, 1
	o := &option{cover: []*round{{made: satinMade, stop: 2}}}
	for _, c := range []struct {
		name  string
		chain chain
		stops [2]int
		tack  *round
		want  evidence
	}{
		{"with theirs", chain{line: line}, [2]int{0, 1}, nil, styleLine + styleAsTack},
		{"in another stop", chain{line: line}, [2]int{0, 3}, nil, styleLine},
		{"in the stop of their lines as well", chain{line: line}, [2]int{1, 1}, nil, styleLine},
		{"made as their lines", chain{line: &Trace{Stop: 1, Kind: report.KindRun}}, [2]int{0, 1}, nil, 0},
		{"that follows a line", chain{line: line, follows: true}, [2]int{0, 1}, nil, 0},
		{"with a tack-down", chain{line: line}, [2]int{0, 1}, &round{stop: 2}, 0},
	} {
		m.stops = map[[2]int]int{c.stops: 1}
		o.tack = c.tack
		if got := m.likeLine(&c.chain, o); got != c.want {
			t.Errorf("a line made as tack-downs, %s: %.1f, want %.1f", c.name, got, c.want)
		}
	}
	b := new(st.Builder).Run(ringAt(0), 2.5).TieOff().Stop()
	b.OpenZigzag(ringAt(0), 2, 2).TieOff().Trim().OpenZigzag(ringAt(60), 2, 2).TieOff().Stop()
	satinOn(b, ringAt(0)).Trim()
	satinOn(b, ringAt(60))
	w := recognised(t, b.Design()).Pieces
	if len(w) != 2 || !w[1].PreCut || w[1].MayBePlain() {
		t.Errorf("%d pieces, want two, the second surely one without a tack-down", len(w))
	}
}

// Where the thread is cut between a line and the blanket stitch over it, the line is a
// tack-down; where it goes on, it may be what the blanket stitch begins with.
func TestTackDownAndBlanketStitchInOneStop(t *testing.T) {
	for _, c := range []struct {
		name   string
		finish func(b *st.Builder, p st.Path)
		cut    bool
		want   bool
	}{
		{"cut between", func(b *st.Builder, p st.Path) { b.EStitch(p, 3, 2.4) }, true, true},
		{"no cut", func(b *st.Builder, p st.Path) { b.EStitch(p, 3, 2.4) }, false, false},
		{"a zigzag, which may hold the cloth as well", func(b *st.Builder, p st.Path) { b.OpenZigzag(p, 3, 2) }, true, false},
	} {
		b := new(st.Builder).DoubleRun(ringAt(0), 2.5).TieOff().Stop().DoubleRun(ringAt(0), 2.2)
		if c.cut {
			b.Trim()
		}
		c.finish(b, ringAt(0))
		w := recognised(t, b.Design()).Pieces
		if got := len(w) == 1 && w[0].TackCover; got != c.want {
			t.Errorf("%s: %d pieces, tacked down and covered in one stop: %v, want %v", c.name, len(w), got, c.want)
		}
	}
}

// A scrap between two pieces belongs to the tack-down of each; a longer part does not.
func TestScrapBetweenTwoPieces(t *testing.T) {
	left, right := panes(0)
	for _, c := range []struct {
		mm    float64
		scrap bool
	}{{6, true}, {8, false}} { // the lines are 140 mm long
		tr := &Trace{Length: c.mm}
		if got := (&chain{line: &Trace{Length: left.Length()}}).scrap(tr); got != c.scrap {
			t.Errorf("%.0f mm of %.0f mm is a scrap: %v", c.mm, left.Length(), got)
		}
	}
	b := new(st.Builder).Run(left, 2.5).TieOff().Trim().Run(right, 2.5).TieOff().Stop()
	b.Bean(left.Offset(0.3), 2.5, 3).Trim().Run(st.Line(st.Point{Y: -2}, st.Point{Y: 2}), 2).Trim().Bean(right.Offset(0.3), 2.5, 3).TieOff().Stop()
	satinOn(b, left).Trim()
	satinOn(b, right)
	w := recognised(t, b.Design()).Pieces
	if len(w) != 2 || w[0].PreCut || w[1].PreCut {
		t.Errorf("%d pieces, want two, both tacked down", len(w))
	}
}

// Lines round everything that was sewn are for batting and backing, not for a cloth that
// would bury the pieces.
func TestLayersOverPiecesWithoutSatin(t *testing.T) {
	for _, c := range []struct {
		name  string
		inner func(b *st.Builder)
		ask   bool // a piece may be laid over all
	}{
		{"a piece", func(b *st.Builder) {
			b.Run(ringAt(0), 2.5).TieOff().Stop().DoubleRun(ringAt(0), 2.2).TieOff().Stop().EStitch(ringAt(0), 3, 2.4).TieOff().Stop()
		}, false},
		{"one line", func(b *st.Builder) { b.Run(ringAt(0), 2.5).TieOff().Stop() }, true},
	} {
		b := new(st.Builder)
		c.inner(b)
		block := st.Rect(st.Point{}, 60, 60)
		b.Run(block, 2.5).TieOff().Stop().Bean(block.Offset(1.2), 2.5, 3).TieOff()
		rec := recognised(t, b.Design())
		got := false
		for _, s := range rec.Rehearsal.Steps {
			got = got || s.Kind == report.StepLay && s.What == report.AppliqueCloth && s.Line.Box.Width() > 50
		}
		if got != c.ask {
			t.Errorf("round %s: cloth is laid over all of it: %v, want %v", c.name, got, c.ask)
		}
	}
}
