package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/render"
	"github.com/stopcard/stopcard/testdata/demo"
)

// drawn runs a command line that writes a picture, or several, and reads the first.
func drawn(t *testing.T, args ...string) image.Image {
	t.Helper()
	out := filepath.Join(t.TempDir(), "out.png")
	status, stdout, stderr := try(t, "", append(args, "-o", out, demoFile(t, demo.Shown))...)
	first, _, _ := strings.Cut(strings.TrimPrefix(stdout, "wrote "), "\n")
	if status != exitOK || stderr != "" || !strings.HasPrefix(first, strings.TrimSuffix(out, ".png")) {
		t.Fatalf("%q: status %d, stdout %q, stderr %q", args, status, stdout, stderr)
	}
	f, err := os.Open(first)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func TestDrawViews(t *testing.T) {
	seen := map[string]string{}
	for _, v := range render.Views() {
		img := drawn(t, "draw", "--view", v.Name, "--dpi", "60", "--hoop", "200x200")
		var b bytes.Buffer
		if err := png.Encode(&b, img); err != nil {
			t.Fatal(err)
		}
		if other, ok := seen[b.String()]; ok {
			t.Errorf("%s is the same picture as %s", v.Name, other)
		}
		seen[b.String()] = v.Name
	}
}

func TestDrawFlags(t *testing.T) {
	if w := drawn(t, "draw", "--width", "321", "--bare").Bounds().Dx(); w != 321 {
		t.Errorf("%d pixels wide, want 321", w)
	}
	corner := func(ground string) color.NRGBA {
		return color.NRGBAModel.Convert(drawn(t, "draw", "--width", "100", "--ground", ground).At(1, 1)).(color.NRGBA)
	}
	for ground, want := range map[string]color.NRGBA{
		"transparent": {}, "cloth": {244, 239, 228, 255}, "navy": {0, 0, 128, 255}, "dark grey": {169, 169, 169, 255}, "#102030": {16, 32, 48, 255},
	} {
		if got := corner(ground); got != want {
			t.Errorf("--ground %s: %v, want %v", ground, got, want)
		}
	}
}

func TestPictureUsage(t *testing.T) {
	for _, args := range [][]string{
		{"draw", "--view", "knitting", "x"}, {"draw", "--dpi", "5", "x"}, {"draw", "--dpi", "NaN", "x"}, {"draw", "--dpi", "300", "--width", "500", "x"},
		{"draw", "--ground", "plaid", "x"}, {"draw", "--ground", "#12345", "x"}, {"draw", "--margin", "-1", "x"}, {"draw", "--paper", "wall", "x"},
		{"card", "--paper", "", "x"}, {"card", "-o", "one.png", "a", "b"}, {"cutlines", "--margin", "99", "x"}, {"cutlines", "-o", "one.svg", "a", "b"}, {"cutlines"},
	} {
		status, stdout, stderr := try(t, "", args...)
		if status != exitUsage || stdout != "" || stderr == "" {
			t.Errorf("%q: status %d, stdout %q, stderr %q", args, status, stdout, stderr)
		}
	}
}

// Sheets of a template that is larger than the paper get their names.
func TestTemplateSheets(t *testing.T) {
	dir := t.TempDir()
	status, _, stderr := try(t, "", "draw", "--view", "template", "--paper", "hand", "--dpi", "50", "-o", filepath.Join(dir, "t.png"), demoFile(t, demo.Shown))
	if status != exitOK {
		t.Fatal(stderr)
	}
	for _, name := range []string{"t-A1.png", "t-A2.png", "t-B1.png", "t-B2.png"} {
		if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
			t.Error(err)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "t.png")); err == nil {
		t.Error("there is a sheet without a name")
	}
}

func TestPaperNamed(t *testing.T) {
	for _, p := range render.Papers() {
		upright, err := paperNamed(" "+strings.ToUpper(p.Name), false)
		if err != nil || upright != p {
			t.Errorf("%s: %v, %v", p.Name, upright, err)
		}
		if turned, err := paperNamed(p.Name, true); err != nil || turned != p.Turned() {
			t.Errorf("%s turned: %v, %v", p.Name, turned, err)
		}
	}
}

// A folder takes the outputs of many designs; a file takes one.
func TestOutputFolder(t *testing.T) {
	from, to := t.TempDir(), t.TempDir()
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"one.pes", "two.pes"} {
		if err := os.WriteFile(filepath.Join(from, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	one, two := filepath.Join(from, "one.pes"), filepath.Join(from, "two.pes")
	if status, _, stderr := try(t, "", "cutlines", "-o", to, one, two); status != exitOK {
		t.Errorf("status %d, %s", status, stderr)
	}
	for _, name := range []string{"one-cutlines.svg", "two-cutlines.svg"} {
		if _, err := os.Stat(filepath.Join(to, name)); err != nil {
			t.Error(err)
		}
	}
	// A pack is one path and many designs.
	var complaint bytes.Buffer
	pack, session := target{out: filepath.Join(to, "all.svg")}, &session{stderr: &complaint}
	if name, ok := pack.name(session, &input{path: "pack.zip/a.pes"}, ".svg"); !ok || name != pack.out {
		t.Errorf("the first design of a pack: %q, %v", name, ok)
	}
	if name, ok := pack.name(session, &input{path: "pack.zip/b.pes"}, ".svg"); ok || !strings.Contains(complaint.String(), "pack.zip/b.pes") {
		t.Errorf("the second design of a pack: %q, %v, %q", name, ok, complaint.String())
	}
}

// Pages are written one by one, numbered from the second.
func TestCardPages(t *testing.T) {
	dir := t.TempDir()
	out := filepath.Join(dir, "c.png")
	status, stdout, stderr := try(t, "", "card", "--paper", "a5", "--landscape", "--ink", "-o", out, demoFile(t, demo.Shown))
	if status != exitOK || !strings.HasPrefix(stdout, "wrote "+out+"\nwrote "+filepath.Join(dir, "c-2.png")+"\n") {
		t.Fatalf("status %d, stdout %q, stderr %q", status, stdout, stderr)
	}
	f, err := os.Open(out)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	// A5 on its side, 210 x 148 mm at 300 dpi.
	if cfg, err := png.DecodeConfig(f); err != nil || cfg.Width != 2480 || cfg.Height != 1748 {
		t.Errorf("%d x %d, %v", cfg.Width, cfg.Height, err)
	}
}

func TestCutlines(t *testing.T) {
	out := filepath.Join(t.TempDir(), "pieces.svg")
	status, stdout, stderr := try(t, "", "cutlines", "-o", out, demoFile(t, demo.Shown))
	if status != exitOK || stdout != "wrote "+out+"\n" {
		t.Fatalf("status %d, stdout %q, stderr %q", status, stdout, stderr)
	}
	data, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	paths := 0
	for dec := xml.NewDecoder(bytes.NewReader(data)); ; {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == "path" {
			paths++
		}
	}
	if paths != 4 { // two pieces, each with its placement line and its cut shape
		t.Errorf("%d paths", paths)
	}
	if status, _, _ := try(t, "", "cutlines", "-o", out, demoFile(t, demo.Shown)); status != exitUsage {
		t.Errorf("replaced without --force: status %d", status)
	}
}

// One PDF holds all sheets of a card or of a template; other views have none.
func TestPDF(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "x.pdf")
	for _, args := range [][]string{{"card"}, {"draw", "--view", "template"}} {
		status, _, stderr := try(t, "", append(args, "--force", "-o", name, demoFile(t, demo.Shown))...)
		if status != exitOK {
			t.Fatal(stderr)
		}
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(string(data), "%PDF-1.") || strings.Count(string(data), "/Type /Page\n") != 2 {
			t.Errorf("%v: no PDF of two pages", args)
		}
	}
	if status, _, stderr := try(t, "", "draw", "--force", "-o", name, demoFile(t, demo.Shown)); status != exitUsage || !strings.Contains(stderr, ".png") {
		t.Errorf("draw writes a thread picture as PDF: %d, %s", status, stderr)
	}
}
