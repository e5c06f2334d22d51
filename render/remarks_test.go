package render

import (
	"bytes"
	"os/exec"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
)

// cardText is the text of the sheets to do, and of those to prepare.
func cardText(t *testing.T, p *stopPictures) (do, prepare string) {
	t.Helper()
	var b bytes.Buffer
	if err := CardPDF(&b, p.d, p.r, CardOptions{}); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(poppler(t, "pdftotext"), "-", "-")
	cmd.Stdin = bytes.NewReader(b.Bytes())
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	do, prepare, _ = strings.Cut(string(text), "\f")
	return strings.Join(strings.Fields(do), " "), strings.Join(strings.Fields(prepare), " ")
}

// What notes say of a piece stands where it is cut and where it is laid, and a remark too
// long for its row is told in full on the sheet to prepare.
func TestCardTellsAllOfTheNotes(t *testing.T) {
	long := "wind this one on a bobbin as well and sew it slowly, " + strings.Repeat("and slower still, ", 12) + "to the very end"
	p := hooped()
	p.r.Stops[1].BeforeSteps = []report.Step{{Kind: report.StepLay, What: report.AppliqueCloth, Pieces: []int{1}, Text: "lay it"}}
	p.r.Cloths = []report.Cloth{{Kind: "applique cloth", Piece: 1, Stop: 2, WidthMM: 60, HeightMM: 60}}
	if do, prepare := cardText(t, p); strings.Contains(prepare, "Remarks") || !strings.Contains(do, "LAY piece 1") {
		t.Fatalf("without notes: %q, %q", do, prepare)
	}
	p.r.Pieces[0].Cloth, p.r.Pieces[0].Note = "the blue check", "on the bias"
	p.r.Stops[0].Note, p.r.Stops[2].Note = "slowly", long
	do, prepare := cardText(t, p)
	for _, want := range []string{"LAY piece 1, the blue check", "slowly"} {
		if !strings.Contains(do, want) {
			t.Errorf("the sheet to do has no %q: %q", want, do)
		}
	}
	for _, want := range []string{"Applique cloth 1, the blue check: 60", "Piece 1: on the bias", "Stop 3: " + long} {
		if !strings.Contains(prepare, want) {
			t.Errorf("the sheet to prepare has no %q: %q", want, prepare)
		}
	}
	if strings.Contains(prepare, "Stop 1: slowly") || strings.Contains(prepare, "no signs for") {
		t.Errorf("too much is told: %q", prepare)
	}
	p.r.Pieces[0].Cloth = "青い布"
	if _, prepare := cardText(t, p); !strings.Contains(prepare, "? stands for each") {
		t.Errorf("it is not said that letters are missing: %q", prepare)
	}
}

// Stops that any thread will do for need no spool of their own on the list.
func TestCardListsAnyThreadOnce(t *testing.T) {
	p := hooped()
	if _, prepare := cardText(t, p); strings.Contains(prepare, "Any thread") {
		t.Errorf("no stop takes any thread: %q", prepare)
	}
	p.r.Stops[0].AnyThread, p.r.Stops[1].AnyThread = true, true
	_, prepare := cardText(t, p)
	if !strings.Contains(prepare, "Any thread, wash-away or like the cloth: ") || !strings.Contains(prepare, "stops 1, 2") || !strings.Contains(prepare, "stops 3 to 5") {
		t.Errorf("threads: %q", prepare)
	}
}

// The sign of scissors never hides a small piece that is to be trimmed.
func TestScissorsBesideASmallPiece(t *testing.T) {
	for _, side := range []float64{8, 14, 30, 60} {
		for _, at := range []geom.Point{{}, {X: -60, Y: 60}, {X: 60, Y: 60}, {X: 60, Y: -60}, {X: -60, Y: -60}} {
			p := hooped()
			p.begin()
			x, y := p.scissorsAt(p.faint.Rect, geom.BoxAround(at, side, side).Corners(), false)
			mx, my := p.place.at(at)
			radius := 0.56 * p.scissorsSide()
			if dx, dy := x-mx, y-my; dx*dx+dy*dy < radius*radius {
				t.Errorf("%v mm at %v: the sign hides the middle", side, at)
			}
			if x < radius || y < radius || x > float64(p.side)-radius || y > float64(p.side)-radius {
				t.Errorf("%v mm at %v: the sign lies outside the picture, at %v, %v", side, at, x, y)
			}
		}
	}
}

// The word below a picture of the underside hides none of it.
func TestUndersideLeavesRoomForItsWord(t *testing.T) {
	for _, plate := range []float64{0, 0.2} {
		p := hooped()
		p.plate = plate
		p.draw([]*report.Stop{&p.r.Stops[3]})
		_, low := p.place.at(geom.Point{Y: -p.r.HeightMM / 2})
		if room := float64(p.side) * (1 - plate); low > room {
			t.Errorf("share %v: the design ends at %v of %v", plate, low, room)
		}
		face := p.face
		p.draw([]*report.Stop{&p.r.Stops[4]})
		if plate > 0 && p.place != face {
			t.Error("the face after it is drawn smaller")
		}
	}
}

// Long work that comes again is told in full once.
func TestCardTellsWorkAgainBriefly(t *testing.T) {
	p := hooped()
	work := "trim the cloth close outside the stitching, 1 mm or less, with small scissors, and cut no stitch"
	for i, text := range []string{work, work, "put it back", "put it back"} {
		p.r.Stops[i].AfterSteps = []report.Step{{Kind: report.StepTrim, What: report.AppliqueCloth, Pieces: []int{1}, Text: text}}
	}
	_, prepare := cardText(t, p)
	if strings.Count(prepare, work) != 1 || !strings.Contains(prepare, "After 2: the same as after 1") || strings.Count(prepare, "put it back") != 2 {
		t.Errorf("%q", prepare)
	}
}
