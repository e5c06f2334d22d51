package main

import (
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var (
	tellsMetric   = regexp.MustCompile(`\d (mm|mm2|m)\b|/mm2`)
	tellsImperial = regexp.MustCompile(`\d (in|yd)\b`)
	markup        = regexp.MustCompile(`(?s)<(style|script|svg)[ >].*?</(style|script|svg)>|<[^>]*>`)
)

// One choice of units holds in every verb: whoever asks for inches is told no
// millimetre, and the other way round.
func TestUnitsInEveryVerb(t *testing.T) {
	wholeOnly(t)
	for _, name := range []string{"kettle-150-faulty.dst", "snail-130.pes"} {
		file := filepath.Join("..", "..", "testdata", "demo", name)
		for _, c := range []struct {
			units string
			not   *regexp.Regexp
			tells *regexp.Regexp
		}{{"inch", tellsMetric, tellsImperial}, {"mm", tellsImperial, tellsMetric}} {
			texts := map[string]string{}
			verbs := []string{"check", "gather"}
			if name == "snail-130.pes" {
				verbs = append(verbs, "resize") // the slowest
			}
			for _, verb := range verbs {
				_, texts[verb], _ = try(t, "", verb, "--units", c.units, "--hoop", "120x120", file)
			}
			dir := t.TempDir()
			page := filepath.Join(dir, "page.html")
			if status, _, stderr := try(t, "", "page", "--units", c.units, "-o", page, file); status != exitOK {
				t.Fatalf("page: %s", stderr)
			}
			text, err := os.ReadFile(page)
			if err != nil {
				t.Fatal(err)
			}
			texts["page"] = html.UnescapeString(markup.ReplaceAllString(string(text), " "))
			if reader, err := exec.LookPath("pdftotext"); err == nil {
				for verb, args := range map[string][]string{"card": {"card"}, "template": {"draw", "--view", "template"}} {
					pdf := filepath.Join(dir, verb+".pdf")
					if status, _, stderr := try(t, "", append(args, "--units", c.units, "-o", pdf, file)...); status != exitOK {
						t.Fatalf("%s: %s", verb, stderr)
					}
					text, err := exec.Command(reader, pdf, "-").Output()
					if err != nil {
						t.Fatal(err)
					}
					texts[verb] = string(text)
				}
			} else {
				t.Log("no pdftotext: the texts of card and template are not looked at")
			}
			for verb, text := range texts {
				if at := c.not.FindStringIndex(text); at != nil {
					t.Errorf("%s of %s in %s says %q", verb, name, c.units, text[max(0, at[0]-80):at[1]])
				}
				if !c.tells.MatchString(text) {
					t.Errorf("%s of %s tells no length in %s", verb, name, c.units)
				}
			}
		}
	}
}

// So it is where designs are compared and where the rules are told.
func TestUnitsInSetsAndRules(t *testing.T) {
	wholeOnly(t)
	demo := filepath.Join("..", "..", "testdata", "demo")
	files := []string{filepath.Join(demo, "kettle-100.dst"), filepath.Join(demo, "kettle-100.pes"), filepath.Join(demo, "kettle-135-stretched.dst"), filepath.Join(demo, "kettle-150-faulty.dst")}
	for _, c := range []struct {
		units string
		not   *regexp.Regexp
		tells *regexp.Regexp
	}{{"inch", tellsMetric, tellsImperial}, {"mm", tellsImperial, tellsMetric}} {
		texts := map[string]string{}
		_, texts["match"], _ = try(t, "", append([]string{"match", "--units", c.units}, files...)...)
		_, texts["proof"], _ = try(t, "", append([]string{"proof", "--units", c.units}, files...)...)
		_, texts["rules"], _ = try(t, "", "rules", "--units", c.units)
		page := filepath.Join(t.TempDir(), "proof.html")
		try(t, "", append([]string{"proof", "--units", c.units, "-o", page}, files...)...)
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		texts["proof page"] = html.UnescapeString(markup.ReplaceAllString(string(text), " "))
		for what, text := range texts {
			text = strings.Join(strings.Fields(text), " ")
			if at := c.not.FindStringIndex(text); at != nil {
				t.Errorf("%s in %s says %q", what, c.units, text[max(0, at[0]-80):at[1]])
			}
			if !c.tells.MatchString(text) {
				t.Errorf("%s tells no length in %s", what, c.units)
			}
		}
	}
	// What is to be given in mm is asked for in mm, whoever prefers inches.
	for _, args := range [][]string{{"cutlines", "--sheet", "3"}, {"cutlines", "--margin", "90"}, {"draw", "--view", "template", "--margin", "90"}} {
		if _, _, stderr := try(t, "", append(args, "--units", "inch", files[0])...); !strings.Contains(stderr, "mm (") || !strings.Contains(stderr, " in)") {
			t.Errorf("%v: %s", args, stderr)
		}
	}
}

var (
	figure   = `((?:\d+ )?\d+/\d+|\d+(?:\.\d+)?)`
	inMetric = regexp.MustCompile(figure + `(?: x ` + figure + `)? mm\b`)
	inInches = regexp.MustCompile(figure + `(?: x ` + figure + `)? in\b`)
)

// lengths are the lengths told in a text, in the units of the figures.
func lengths(t *testing.T, told *regexp.Regexp, text string) (out []float64, eighths []bool) {
	for _, m := range told.FindAllStringSubmatch(strings.Join(strings.Fields(text), " "), -1) {
		for _, f := range m[1:] {
			if f == "" {
				continue
			}
			sum := 0.0
			for _, part := range strings.Fields(f) {
				over, under, fraction := strings.Cut(part, "/")
				v, err := strconv.ParseFloat(over, 64)
				if err != nil {
					t.Fatal(err)
				}
				if fraction {
					d, err := strconv.ParseFloat(under, 64)
					if err != nil {
						t.Fatal(err)
					}
					v /= d
				}
				sum += v
			}
			out, eighths = append(out, sum), append(eighths, !strings.Contains(f, "."))
		}
	}
	return out, eighths
}

// What check tells in inches is what it tells in mm, by the inch of 25.4 mm (agreement
// of 1959), but for rounding: to eighths where cloth is cut, else to 0.01 in.
func TestUnitsTellTheSame(t *testing.T) {
	file := filepath.Join("..", "..", "testdata", "demo", "kettle-150-faulty.dst")
	_, metric, _ := try(t, "", "check", "--units", "mm", file)
	_, inches, _ := try(t, "", "check", "--units", "inch", file)
	mm, _ := lengths(t, inMetric, metric)
	in, eighths := lengths(t, inInches, inches)
	if len(mm) != len(in) || len(mm) < 20 {
		t.Fatalf("%d lengths in mm, %d in inches", len(mm), len(in))
	}
	for i := range mm {
		within := 0.2
		if eighths[i] {
			within = 25.4/8 + 0.5
		}
		if d := in[i]*25.4 - mm[i]; d < -within || d > within {
			t.Errorf("length %d: %v mm and %v in", i, mm[i], in[i])
		}
	}
}
