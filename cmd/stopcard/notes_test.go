package main

import (
	"archive/zip"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/testdata/demo"
)

// pack writes files of the demo pack into a folder.
func pack(t *testing.T, names ...string) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range names {
		data, err := demo.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		write(t, dir, name, data)
	}
	return dir
}

// reports runs check on paths and reads its JSON.
func reports(t *testing.T, args ...string) []*report.Report {
	t.Helper()
	_, stdout, stderr := try(t, "", append([]string{"check", "--json"}, args...)...)
	var doc report.Document
	if err := json.Unmarshal([]byte(stdout), &doc); err != nil {
		t.Fatalf("%v: %v; %s", args, err, stderr)
	}
	return doc.Designs
}

// A design read wrongly is put right with three lines, and every verb follows: here
// the kettle, piece 1, is said to be a picture of stitches only.
func TestNotesEveryVerbFollows(t *testing.T) {
	wholeOnly(t)
	dir := pack(t, "kettle-150.pes", "kettle-150.jef")
	file := filepath.Join(dir, "kettle-150.pes")
	all := func() map[string]string {
		out := map[string]string{}
		for _, v := range []struct{ name, args string }{
			{"check", "check"}, {"card", "card -o OUT/card.png"}, {"page", "page -o OUT/page.html"}, {"draw", "draw --view cover -o OUT/draw.png"},
			{"resize", "resize --json"}, {"match", "match --json FILE2"}, {"gather", "gather --json"}, {"cutlines", "cutlines -o OUT/cut.svg"},
		} {
			to := t.TempDir()
			args := strings.Fields(strings.ReplaceAll(strings.ReplaceAll(v.args, "OUT", to), "FILE2", filepath.Join(dir, "kettle-150.jef")))
			status, stdout, stderr := try(t, "", append(args, file)...)
			if status != exitOK && status != exitFindings {
				t.Fatalf("%s: status %d, %s", v.name, status, stderr)
			}
			list, _ := filepath.Glob(filepath.Join(to, "*"))
			for _, name := range list {
				data, err := os.ReadFile(name)
				if err != nil {
					t.Fatal(err)
				}
				stdout += string(data)
			}
			out[v.name] = strings.ReplaceAll(stdout, to, "")
		}
		return out
	}
	before := all()
	if got := reports(t, file)[0]; len(got.Pieces) != 2 {
		t.Fatalf("the demo has %d pieces", len(got.Pieces))
	}
	write(t, dir, "kettle-150.notes.toml", []byte("[[stop]]\nnumber = 3\nrole = \"decoration\"\n"))
	after := all()
	for verb, text := range before {
		if verb != "match" && text == after[verb] {
			t.Errorf("%s says the same with the notes", verb)
		}
	}
	r := reports(t, file)[0]
	if len(r.Pieces) != 1 || r.Pieces[0].PlacementStop != 5 || r.Stops[2].Role != "decoration" || r.Stops[2].Confidence != 1 || r.Stops[2].Reason != "as you noted" {
		t.Errorf("%d pieces, stop 3 is %s (%v, %s)", len(r.Pieces), r.Stops[2].Role, r.Stops[2].Confidence, r.Stops[2].Reason)
	}
	if n := len(slices.DeleteFunc(slices.Clone(r.Cloths), func(c report.Cloth) bool { return c.Kind != "applique cloth" })); n != 1 {
		t.Errorf("%d pieces of cloth to cut", n)
	}
	if len(r.Stops[3].Before)+len(r.Stops[3].After) > 0 {
		t.Errorf("at stop 4: %q, %q", r.Stops[3].Before, r.Stops[3].After)
	}
	var list gather.Document
	if err := json.Unmarshal([]byte(after["gather"]), &list); err != nil || len(list.Gatherings) == 0 {
		t.Fatalf("%v, %d lists", err, len(list.Gatherings))
	}
	if n := strings.Count(after["gather"], `"kind": "applique cloth"`); n >= strings.Count(before["gather"], `"kind": "applique cloth"`) {
		t.Errorf("gather lists %d applique cloths", n)
	}
	// Both files of match have the role that one of them was given.
	for _, verb := range []string{"match"} {
		if strings.Contains(after[verb], "placement line") && strings.Count(after[verb], "set-disagrees") > strings.Count(before[verb], "set-disagrees") {
			t.Errorf("the formats of one size disagree: %s", after[verb])
		}
	}
	if n := strings.Count(after["cutlines"], "<path"); n >= strings.Count(before["cutlines"], "<path") {
		t.Errorf("cutlines draws %d paths, before %d", n, strings.Count(before["cutlines"], "<path"))
	}
	// --notes none takes them away again.
	if got := reports(t, "--notes", "none", file)[0]; len(got.Pieces) != 2 || got.Notes != nil {
		t.Errorf("--notes none: %d pieces, %v", len(got.Pieces), got.Notes)
	}
}

// Notes are written for one file, one line in them is changed, and every format and
// size of the pack obeys, in a folder and in a ZIP.
func TestNotesRoundTrip(t *testing.T) {
	names := []string{"kettle-100.dst", "kettle-100.jef", "kettle-100.pes", "kettle-125.dst", "kettle-125.jef", "kettle-125.pes", "kettle-150.dst", "kettle-150.jef", "kettle-150.pes"}
	dir := pack(t, names...)
	if status, stdout, stderr := try(t, "", "notes", filepath.Join(dir, "kettle-150.jef")); status != exitOK {
		t.Fatalf("notes: %d, %s%s", status, stdout, stderr)
	}
	file := filepath.Join(dir, "kettle-150.notes.toml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	// As written they change nothing.
	for i, r := range reports(t, dir) {
		plain := reports(t, "--notes", "none", filepath.Join(dir, names[i]))[0]
		if len(r.Pieces) != len(plain.Pieces) || r.Notes == nil {
			t.Errorf("%s: %d pieces, %d without notes", r.Path, len(r.Pieces), len(plain.Pieces))
		}
		for k, s := range r.Stops {
			if p := plain.Stops[k]; s.Role != p.Role || s.Reason != p.Reason || s.Confidence != p.Confidence {
				t.Errorf("%s: stop %d is %s (%s), without notes %s (%s)", r.Path, s.Number, s.Role, s.Reason, p.Role, p.Reason)
			}
		}
	}
	lines := strings.Split(string(text), "\n")
	i := slices.Index(lines, "number = 5") + 1
	if !strings.HasPrefix(lines[i], `role = "placement line"  # `) {
		t.Fatalf("stop 5: %q", lines[i])
	}
	lines[i] = `role = "decoration"`
	changed := []byte(strings.Join(lines, "\n"))
	write(t, dir, "kettle-150.notes.toml", changed)

	zipped := filepath.Join(t.TempDir(), "pack.zip")
	f, err := os.Create(zipped)
	if err != nil {
		t.Fatal(err)
	}
	z := zip.NewWriter(f)
	for _, name := range append(slices.Clone(names), "kettle-150.notes.toml") {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		w, err := z.Create("Kettle/" + strings.ToUpper(filepath.Ext(name)[1:]) + "/" + name)
		if err == nil {
			_, err = w.Write(data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	f.Close()

	one := filepath.Join(dir, "kettle-100.pes")
	for _, paths := range [][]string{{dir}, {zipped}, {one}} {
		all := reports(t, paths...)
		if len(paths) == 1 && paths[0] != one && len(all) != len(names) {
			t.Errorf("%v: %d designs", paths, len(all))
		}
		for _, r := range all {
			if r.Stops[4].Role != "decoration" || r.Stops[4].Reason != "as you noted" || len(r.Pieces) != 1 || r.Pieces[0].PlacementStop != 3 {
				t.Errorf("%s: stop 5 is %s (%s), %d pieces", r.Path, r.Stops[4].Role, r.Stops[4].Reason, len(r.Pieces))
			}
			want := "another size"
			if strings.Contains(r.Path, "150") {
				want = "same stitches"
			}
			if r.Notes == nil || r.Notes.Fit != want || (want == "another size") != strings.Contains(r.Notes.Message, "written for 150.0 x 150.0 mm") {
				t.Errorf("%s: notes %+v", r.Path, r.Notes)
			}
		}
	}

	// What a person wrote stays with --update, and nothing is replaced without being asked.
	if status, _, stderr := try(t, "", "notes", filepath.Join(dir, "kettle-150.jef")); status != exitUsage || !strings.Contains(stderr, "--update adds what is new") {
		t.Errorf("notes over notes: %d, %s", status, stderr)
	}
	if status, _, stderr := try(t, "", "notes", "--update", filepath.Join(dir, "kettle-150.jef")); status != exitOK {
		t.Errorf("--update: %d, %s", status, stderr)
	}
	if now, _ := os.ReadFile(file); !strings.Contains(string(now), "number = 5\nrole = \"decoration\"\n") || strings.Count(string(now), "\n") != strings.Count(string(changed), "\n") {
		t.Errorf("--update lost what was written:\n%s", now)
	}
	if status, _, stderr := try(t, "", "notes", "--force", filepath.Join(dir, "kettle-150.jef")); status != exitOK {
		t.Errorf("--force: %d, %s", status, stderr)
	}
	if now, _ := os.ReadFile(file); string(now) != string(text) {
		t.Error("--force does not write them anew")
	}
}

// Handwritten notes get what is missing, and keep their words, order and roles.
func TestNotesUpdate(t *testing.T) {
	dir := pack(t, "kettle-150.pes")
	design := filepath.Join(dir, "kettle-150.pes")
	mine := "# from Ada\n[[stop]]\nnumber = 4 # the second\nrole = \"tack-down\"\nnote = \"slowly\"\n\n[[piece]]\nnumber = 2\ncloth = \"the blue check\"\n"
	file := write(t, dir, "kettle-150.notes.toml", []byte(mine))
	before := reports(t, design)[0]
	if status, _, stderr := try(t, "", "notes", "--update", design); status != exitOK {
		t.Fatalf("%d, %s", status, stderr)
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), mine) || strings.Count(string(text), "[[stop]]") != len(before.Stops) || strings.Count(string(text), "[[piece]]") != 2 || strings.Count(string(text), "[design]") != 1 {
		t.Errorf("%s", text)
	}
	after := reports(t, design)[0]
	for i, s := range after.Stops {
		if b := before.Stops[i]; s.Role != b.Role || s.Reason != b.Reason || s.Note != b.Note {
			t.Errorf("stop %d: %s (%s), before %s (%s)", s.Number, s.Role, s.Reason, b.Role, b.Reason)
		}
	}
	if s := after.Stops[3]; s.Reason != "as you noted" || s.Note != "slowly" || after.Pieces[1].Cloth != "the blue check" {
		t.Errorf("stop 4: %s, %q; piece 2 of %q", s.Reason, s.Note, after.Pieces[1].Cloth)
	}
	if after.Notes.Fit != "same stitches" || before.Notes.Fit != "not bound" {
		t.Errorf("bound: %q, before %q", after.Notes.Fit, before.Notes.Fit)
	}
	again, _ := os.ReadFile(file)
	try(t, "", "notes", "--update", design)
	if twice, _ := os.ReadFile(file); string(twice) != string(again) {
		t.Error("a second --update changes something")
	}
}

func TestNotesWrong(t *testing.T) {
	dir := pack(t, "kettle-150.pes", "kettle-125.pes")
	design := filepath.Join(dir, "kettle-150.pes")
	for _, c := range []struct {
		text string
		says []string
	}{
		{"[[stop]]\nnumber = 23\nrole = \"tack-down\"\n", []string{"kettle-150.notes.toml:1: there is no stop 23", "expected 1 to 22"}},
		{"\n[[piece]]\nnumber = 9\napplique = false\n", []string{"kettle-150.notes.toml:2: there is no piece 9", "expected 1 to 2"}},
		{"[[piece]]\nat_mm = [70, 70]\napplique = false\n", []string{"kettle-150.notes.toml:1: there is no piece round 70.0, 70.0"}},
		{"[[stop]]\nnumber = 1\nroll = \"x\"\n", []string{"kettle-150.notes.toml:3: there is no key \"roll\"", "did you mean role"}},
	} {
		write(t, dir, "kettle-150.notes.toml", []byte(c.text))
		status, stdout, stderr := try(t, "", "check", design)
		if status != exitUnreadable || stdout != "" {
			t.Errorf("%q: status %d, %s", c.text, status, stdout)
		}
		for _, s := range c.says {
			if !strings.Contains(stderr, s) {
				t.Errorf("%q: %s does not say %q", c.text, stderr, s)
			}
		}
		if status, _, stderr := try(t, "", "check", "--notes", filepath.Join(dir, "kettle-150.notes.toml"), design); status == exitOK || !strings.Contains(stderr, c.says[0]) {
			t.Errorf("--notes: %q: status %d, %s", c.text, status, stderr)
		}
	}
	// Another design's notes are not used, and that is said.
	write(t, dir, "small.dst", small(t, false))
	try(t, "", "notes", "-o", filepath.Join(dir, "kettle-150.notes.toml"), "--force", filepath.Join(dir, "small.dst"))
	status, _, stderr := try(t, "", "check", design)
	if status != exitOK || !strings.Contains(stderr, "kettle-150.notes.toml are for another design") {
		t.Errorf("status %d, %s", status, stderr)
	}
	if r := reports(t, design)[0]; r.Notes == nil || r.Notes.Fit != "another design" {
		t.Errorf("%+v", r.Notes)
	}
}

// A file without colours takes those of a file of its name with the same stitches, and
// says so; not of one with others.
func TestColoursBorrowed(t *testing.T) {
	dir := pack(t, "kettle-150.dst", "kettle-150.pes")
	file := filepath.Join(dir, "kettle-150.dst")
	r, from := reports(t, file)[0], reports(t, filepath.Join(dir, "kettle-150.pes"))[0]
	if filepath.Base(r.ColoursFrom) != "kettle-150.pes" || from.ColoursFrom != "" {
		t.Errorf("colours from %q and %q", r.ColoursFrom, from.ColoursFrom)
	}
	for i, s := range r.Stops {
		if s.Colour == nil || *s.Colour != *from.Stops[i].Colour || *s.ColourName != *from.Stops[i].ColourName {
			t.Errorf("stop %d: %v", s.Number, s.Colour)
		}
	}
	if _, stdout, _ := try(t, "", "check", file); !strings.Contains(stdout, "colours are those of kettle-150.pes") {
		t.Errorf("check does not say where the colours are from: %s", stdout)
	}
	other, err := demo.Files.ReadFile("kettle-125.pes")
	if err != nil {
		t.Fatal(err)
	}
	write(t, dir, "kettle-150.pes", other)
	if r := reports(t, file)[0]; r.ColoursFrom != "" || r.Stops[0].Colour != nil {
		t.Errorf("colours of other stitches are taken from %q", r.ColoursFrom)
	}
}

// A box in the settings file and one in a CSV.
func TestThreadBox(t *testing.T) {
	dir := pack(t, "kettle-150.pes")
	file := filepath.Join(dir, "kettle-150.pes")
	write(t, dir, "box.csv", []byte("name, colour, weight, left\npine, #134a40, 40, 300\nbrick, #b54b64, 40, 5\nthick pine, dark teal, 12, \n"))
	settings := write(t, dir, "settings.toml", []byte("thread-box = \"box.csv\"\n[[thread]]\nname = \"straw\"\ncolour = \"light orange\"\nleft = 120\n"))
	r := reports(t, "--settings", settings, file)[0]
	for stop, want := range map[int]string{8: "brick same", 9: "straw close", 13: "pine close", 3: "", 20: ""} {
		got := ""
		if s := r.Stops[stop-1].Spool; s != nil {
			got = s.Name + " " + string(s.Near)
		}
		if got != want {
			t.Errorf("stop %d takes %q, want %q", stop, got, want)
		}
	}
	if s := r.Stops[2]; !s.AnyThread {
		t.Errorf("stop 3, a placement line, wants a thread of its own")
	}
	i := slices.IndexFunc(r.Spools, func(u report.SpoolUse) bool { return u.Name == "brick" })
	if i < 0 || !slices.Equal(r.Spools[i].Stops, []int{8, 10, 19}) || r.Spools[i].Short() <= 0 {
		t.Errorf("%+v", r.Spools)
	}
	_, stdout, _ := try(t, "", "check", "--settings", settings, file)
	for _, says := range []string{"Your brick: stops 8, 10 and 19 take the same spool", "too little", "Missing from your box: light green", "Any thread will do for stops 1, 2, 3"} {
		if !strings.Contains(strings.Join(strings.Fields(stdout), " "), says) {
			t.Errorf("check does not say %q", says)
		}
	}
	_, stdout, _ = try(t, "", "gather", "--settings", settings, file)
	if !strings.Contains(stdout, "Thread to buy") || !strings.Contains(stdout, "(runs out)") || !strings.Contains(stdout, "at hand") {
		t.Errorf("gather: %s", stdout)
	}
	// The settings in force are themselves a settings file, box and all.
	_, stdout, _ = try(t, "", "settings", "--settings", settings)
	again := write(t, dir, "again.toml", []byte(stdout))
	if got := reports(t, "--settings", again, file)[0]; len(got.Spools) != len(r.Spools) {
		t.Errorf("from the settings in force: %+v", got.Spools)
	}
	// A thread out of the notes is taken from the box by its name.
	write(t, dir, "kettle-150.notes.toml", []byte("[[stop]]\nnumber = 22\nthread = \"Pine\"\n"))
	if s := reports(t, "--settings", settings, file)[0].Stops[21]; s.Spool == nil || s.Spool.Name != "pine" || s.Spool.Near != report.NearNoted {
		t.Errorf("%+v", s.Spool)
	}
	for text, want := range map[string]string{
		"name,colour\npine,grean\n":                  "box.csv:2: pine: colour \"grean\"; did you mean green?",
		"name,colour\n,green\n":                      "box.csv:2: a thread has no name",
		"name,colour,weigth\npine,green,40\n":        "box.csv:2: there is no key \"weigth\" for a thread; did you mean weight?",
		"name,colour\npine,green,40\n":               "box.csv:2: wrong number of fields",
		"name,colour,left\npine,green,-1\n":          "box.csv:2: pine: left: expected 0 to",
		"name,colour\npine,green\nPine,dark green\n": "two threads called \"Pine\"",
		"name,colour\npine,\"green\n":                "box.csv:2: extraneous or missing",
	} {
		write(t, dir, "box.csv", []byte(text))
		if status, _, stderr := try(t, "", "check", "--thread-box", filepath.Join(dir, "box.csv"), file); status != exitUsage || !strings.Contains(stderr, want) {
			t.Errorf("%q: %d, %s, want %s", text, status, stderr, want)
		}
	}
	write(t, dir, "box.csv", []byte("\ufeffName;Colour;Weight;Left\nfir;#134a40;40;12,5\n"))
	if r := reports(t, "--settings", "none", "--thread-box", filepath.Join(dir, "box.csv"), file)[0]; len(r.Spools) != 1 || *r.Spools[0].LeftM != 12.5 {
		t.Errorf("with semicolons: %+v", r.Spools)
	}
}

// Notes that were written where lines end in two characters keep ending so.
func TestNotesUpdateKeepsLineEnds(t *testing.T) {
	for _, end := range []string{"\n", "\r\n"} {
		dir := pack(t, "kettle-100.pes")
		file := write(t, dir, "kettle-100.notes.toml", []byte("[[stop]]"+end+"number = 4"+end+"note = \"slowly\""+end))
		if status, _, stderr := try(t, "", "notes", "--update", filepath.Join(dir, "kettle-100.pes")); status != exitOK {
			t.Fatalf("%q: %d, %s", end, status, stderr)
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if all, two := strings.Count(string(text), "\n"), strings.Count(string(text), "\r\n"); all < 50 || two != 0 && two != all || (two > 0) != (end == "\r\n") {
			t.Errorf("%q: %d lines, %d of them end in two characters", end, all, two)
		}
	}
}
