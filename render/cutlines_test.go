package render_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/geom"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/stitchfile"
)

// pieces is a report with two pieces of cloth: a rectangle of 60 x 40 mm with
// its lower left corner at the origin, and a triangle.
func pieces(name string) (*stitchfile.Design, *report.Report) {
	return &stitchfile.Design{}, &report.Report{
		Name: name, WidthMM: 120, HeightMM: 80,
		Pieces: []report.Piece{
			{Number: 1, MarginMM: 6.35, PlacementStop: 3, Placement: []geom.Point{{}, {X: 60}, {X: 60, Y: 40}, {Y: 40}, {}}},
			{Number: 2, MarginMM: 6.35, PlacementStop: 5, Placement: []geom.Point{{X: -50}, {X: -10}, {X: -30, Y: 30}, {X: -50}}},
		},
	}
}

// The elements and attributes that may stand in the file: a part of those that
// SVG 1.1 (W3C) allows there, all of them harmless.
var svgAllowed = map[string]string{
	"svg":   "xmlns version width height viewBox",
	"g":     "id fill stroke stroke-width",
	"path":  "id d",
	"title": "",
}

type svgPath struct {
	layer, d string
}

// readSVG holds a file to svgAllowed and gives its paths by id.
func readSVG(t *testing.T, data []byte) (w, h float64, paths map[string]svgPath) {
	t.Helper()
	paths = map[string]svgPath{}
	dec := xml.NewDecoder(bytes.NewReader(data))
	layer, depth := "", 0
	for {
		token, err := dec.Token()
		if err == io.EOF {
			return w, h, paths
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.EndElement:
			depth--
		case xml.Directive:
			t.Errorf("directive %s", e)
		case xml.StartElement:
			allowed, ok := svgAllowed[e.Name.Local]
			if !ok || e.Name.Space != "http://www.w3.org/2000/svg" {
				t.Errorf("element %v", e.Name)
			}
			if (depth == 0) != (e.Name.Local == "svg") {
				t.Errorf("%s at depth %d", e.Name.Local, depth)
			}
			depth++
			at := map[string]string{}
			for _, a := range e.Attr {
				at[a.Name.Local] = a.Value
				if !strings.Contains(" "+allowed+" ", " "+a.Name.Local+" ") {
					t.Errorf("%s has attribute %s", e.Name.Local, a.Name.Local)
				}
			}
			switch e.Name.Local {
			case "svg":
				w, h = inMM(t, at["width"]), inMM(t, at["height"])
				box := numbers(t, at["viewBox"])
				if len(box) != 4 || box[0] != 0 || box[1] != 0 || box[2] != w || box[3] != h {
					t.Errorf("viewBox %v beside %v x %v mm", box, w, h)
				}
			case "g":
				layer = at["id"]
			case "path":
				paths[at["id"]] = svgPath{layer, at["d"]}
			}
		}
	}
}

func inMM(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSuffix(s, "mm"), 64)
	if err != nil || !strings.HasSuffix(s, "mm") {
		t.Fatalf("length %q", s)
	}
	return v
}

func numbers(t *testing.T, s string) (out []float64) {
	t.Helper()
	for _, f := range strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune("MLHZ ", r) }) {
		v, err := strconv.ParseFloat(f, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, v)
	}
	return out
}

// extent is the width and height of a path of M, L and Z.
func extent(t *testing.T, d string) (w, h float64) {
	v := numbers(t, d)
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for i, x := range v {
		lo[i%2], hi[i%2] = min(lo[i%2], x), max(hi[i%2], x)
	}
	return hi[0] - lo[0], hi[1] - lo[1]
}

// A unit of the drawing is a millimetre of its stated size, so a rectangle of
// 60 x 40 mm spans 60 by 40, and its cut shape twice the margin that the
// report tells, 6.35 mm here, more.
func TestCutlinesScale(t *testing.T) {
	d, r := pieces("Kettle")
	var out bytes.Buffer
	if err := render.Cutlines(&out, d, r, render.CutlineOptions{CheckBar: true, InPlace: true}); err != nil {
		t.Fatal(err)
	}
	w, _, paths := readSVG(t, out.Bytes())
	if want := 50 + 60 + 2*6.35 + 2.0; math.Abs(w-want) > 0.05 {
		t.Errorf("%v mm wide, want %v", w, want)
	}
	for _, c := range []struct {
		id, layer string
		w, h      float64
	}{{"placement-1", "placement", 60, 40}, {"cut-1", "cut", 72.7, 52.7}, {"placement-2", "placement", 40, 30}} {
		p := paths[c.id]
		if p.layer != c.layer || !strings.HasSuffix(p.d, "Z") {
			t.Errorf("%s: layer %q, path %q", c.id, p.layer, p.d)
		}
		if w, h := extent(t, p.d); math.Abs(w-c.w) > 0.03 || math.Abs(h-c.h) > 0.03 {
			t.Errorf("%s: %.3f x %.3f mm, want %v x %v", c.id, w, h, c.w, c.h)
		}
	}
	if v := numbers(t, paths["check-50mm"].d); len(v) != 3 || v[2]-v[0] != 50 {
		t.Errorf("check line: %v", v)
	}
}

// Y runs down in SVG and up on the cloth: the top edge comes out on top. Mirrored,
// left and right change places and nothing else does.
func TestCutlinesMirror(t *testing.T) {
	d, r := pieces("")
	get := func(mirror bool) (float64, []float64) {
		var out bytes.Buffer
		if err := render.Cutlines(&out, d, r, render.CutlineOptions{MarginMM: -1, Mirror: mirror}); err != nil {
			t.Fatal(err)
		}
		w, _, paths := readSVG(t, out.Bytes())
		return w, numbers(t, paths["placement-2"].d)
	}
	w, plain := get(false)
	_, mirrored := get(true)
	if plain[1] != plain[3] || plain[5] != plain[1]-30 {
		t.Errorf("the triangle does not point up: %v", plain)
	}
	for i := range plain {
		want := plain[i]
		if i%2 == 0 {
			want = w - plain[i]
		}
		if math.Abs(mirrored[i]-want) > 0.002 {
			t.Errorf("mirrored %v from %v", mirrored, plain)
			break
		}
	}
}

// A name out of a file cannot become markup.
func TestCutlinesEscapes(t *testing.T) {
	d, r := pieces("</title><script>alert(1)</script>\x00\x1b & \"'")
	var out bytes.Buffer
	if err := render.Cutlines(&out, d, r, render.CutlineOptions{}); err != nil {
		t.Fatal(err)
	}
	readSVG(t, out.Bytes())
	if bytes.Contains(out.Bytes(), []byte("<script")) || bytes.ContainsAny(out.Bytes(), "\x00\x1b") {
		t.Errorf("%.400s", out.Bytes())
	}
}

// Nothing that does not show, or turns the order of letters, is in the file.
func TestCutlinesTitleShows(t *testing.T) {
	var b bytes.Buffer
	d, r := pieces("a\u009bb\u202ec\u200bd")
	if err := render.Cutlines(&b, d, r, render.CutlineOptions{}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "<title>a·b·c·d</title>") {
		t.Errorf("%.200s", b.String())
	}
}

func TestCutlinesWithoutPieces(t *testing.T) {
	d, r := ring()
	var out bytes.Buffer
	if err := render.Cutlines(&out, d, r, render.CutlineOptions{}); !errors.Is(err, render.ErrNoPlacement) || out.Len() > 0 {
		t.Errorf("%v, %d bytes", err, out.Len())
	}
}

// crowd is a report with pieces that lie on one another in the design.
func crowd(n int) (*stitchfile.Design, *report.Report) {
	r := &report.Report{}
	for i := range n {
		x, w, h := float64(7*i%40), 20+float64(13*i%70), 15+float64(29*i%50)
		r.Pieces = append(r.Pieces, report.Piece{Number: i + 1, MarginMM: 6.35, PlacementStop: 2 + i, TackDownStop: 3 + i, CoverStop: 4 + i,
			Placement: []geom.Point{{X: x}, {X: x + w}, {X: x + w, Y: h}, {X: x, Y: h}, {X: x}}})
	}
	return &stitchfile.Design{}, r
}

// Laid side by side no piece lies on another, and none is lost, turned or changed in size.
func TestCutlinesDoNotOverlap(t *testing.T) {
	for _, n := range []int{1, 2, 7, 40} {
		for _, sheet := range []float64{0, 100, 450} {
			d, r := crowd(n)
			var out bytes.Buffer
			if err := render.Cutlines(&out, d, r, render.CutlineOptions{SheetMM: sheet}); err != nil {
				t.Fatal(err)
			}
			w, h, paths := readSVG(t, out.Bytes())
			if sheet == 0 {
				sheet = render.CutSheetMM
			}
			if w > max(sheet, 90+2*6.35+2)+2 {
				t.Errorf("%d pieces on a sheet of %g: %g mm wide", n, sheet, w)
			}
			var boxes [][4]float64
			for i := range n {
				v := numbers(t, paths["cut-"+strconv.Itoa(i+1)].d)
				if len(v) < 8 {
					t.Fatalf("piece %d is lost", i+1)
				}
				b := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
				for k := 0; k+1 < len(v); k += 2 {
					b[0], b[1], b[2], b[3] = min(b[0], v[k]), min(b[1], v[k+1]), max(b[2], v[k]), max(b[3], v[k+1])
				}
				line := r.Pieces[i].Placement
				if math.Abs(b[2]-b[0]-(line[1].X-line[0].X)-12.7) > 0.05 || math.Abs(b[3]-b[1]-line[2].Y-12.7) > 0.05 {
					t.Errorf("piece %d is %.2f x %.2f mm", i+1, b[2]-b[0], b[3]-b[1])
				}
				if b[0] < 0 || b[1] < 0 || b[2] > w || b[3] > h {
					t.Errorf("piece %d lies off the sheet: %v", i+1, b)
				}
				for k, a := range boxes {
					if b[0] < a[2] && a[0] < b[2] && b[1] < a[3] && a[1] < b[3] {
						t.Errorf("%d pieces on %g mm: piece %d lies on piece %d", n, sheet, i+1, k+1)
					}
				}
				boxes = append(boxes, b)
			}
		}
	}
}

// A piece without a tack-down is cut to its line, and so is any with a margin of none.
// The placement lines can be left out.
func TestCutlinesPreCut(t *testing.T) {
	d, r := crowd(2)
	r.Pieces[0].TackDownStop, r.Pieces[0].MarginMM = 0, 0
	paths := func(o render.CutlineOptions) map[string]svgPath {
		var out bytes.Buffer
		if err := render.Cutlines(&out, d, r, o); err != nil {
			t.Fatal(err)
		}
		_, _, p := readSVG(t, out.Bytes())
		return p
	}
	both, only := paths(render.CutlineOptions{}), paths(render.CutlineOptions{CutOnly: true, MarginMM: -1})
	for id, want := range map[string]float64{"cut-1": 20, "cut-2": 33 + 12.7} {
		if w, _ := extent(t, both[id].d); math.Abs(w-want) > 0.05 {
			t.Errorf("%s is %.2f mm wide, want %.2f", id, w, want)
		}
	}
	if w, _ := extent(t, only["cut-2"].d); math.Abs(w-33) > 0.01 {
		t.Errorf("with no margin it is %.2f mm wide", w)
	}
	if len(only) != 2 || only["placement-1"].d != "" || len(both) != 4 {
		t.Errorf("%d and %d paths", len(only), len(both))
	}
}
