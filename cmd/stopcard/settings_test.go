package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/testdata/demo"
)

// Tests must not read the settings of whoever runs them.
func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
	}
	dir, err := os.MkdirTemp("", "stopcard-test-*")
	if err != nil {
		panic(err)
	}
	for _, name := range []string{"XDG_CONFIG_HOME", "HOME", "AppData"} {
		os.Setenv(name, dir)
	}
	status := m.Run()
	os.RemoveAll(dir)
	os.Exit(status)
}

func settingsFile(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "my.toml")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// A flag beats the file, the file beats the default, and each says so.
func TestSettingsSources(t *testing.T) {
	path := settingsFile(t, `
hoop = "big"
speed = 700
trim-seconds = 9
trim-allowance = "1/16in"
paper = "letter"
[hoops]
big = "8 1/2 x 11 in"
[limits]
thin-cover = 0.9
long-stitch = 7
`)
	status, stdout, stderr := try(t, "", "settings", "--settings", path, "--speed", "800", "--limit", "long-stitch=1/2in")
	if status != exitOK {
		t.Fatal(stderr)
	}
	for key, from := range map[string]string{
		`hoop = "big"`: path + ":2", "speed = 800": "flag", "trim-seconds = 9": path + ":4", "trim-allowance = 1.5875": path + ":5",
		`paper = "letter"`: path + ":6", "stop-seconds = 40": "default",
		`"big" = "8 1/2 x 11 in"`: path + ":8", "thin-cover = 0.9": path + ":10", "long-stitch = 12.7": "flag", "no-tie = 1": "default",
	} {
		found := false
		for line := range strings.Lines(stdout) {
			found = found || strings.HasPrefix(line, key+" ") && strings.HasSuffix(strings.TrimSpace(line), filepath.ToSlash(from))
		}
		if !found {
			t.Errorf("no line %q from %q in\n%s", key, from, stdout)
		}
	}

	// What it prints is a settings file that says the same.
	again := settingsFile(t, stdout)
	_, second, stderr := try(t, "", "settings", "--settings", again)
	if strip(second) != strip(stdout) {
		t.Errorf("read back: %s\n%s\nwant\n%s", stderr, second, stdout)
	}
}

// strip drops comments.
func strip(text string) string {
	var out strings.Builder
	for line := range strings.Lines(text) {
		value, _, _ := strings.Cut(line, "#")
		out.WriteString(strings.TrimSpace(value) + "\n")
	}
	return out.String()
}

func TestSettingsInForce(t *testing.T) {
	file := write(t, t.TempDir(), "small.dst", small(t, false))
	path := settingsFile(t, "hoop = \"mine\"\n[hoops]\nmine = \"15x15\"\n")
	status, stdout, stderr := try(t, "", "check", "--settings", path, file)
	if status != exitFindings || !strings.Contains(stdout, "does not fit the hoop of 15 x") {
		t.Errorf("status %d, %s%s", status, stdout, stderr)
	}
	if status, stdout, stderr = try(t, "", "check", "--settings", path, "--hoop", "300x300", file); status != exitOK {
		t.Errorf("the flag does not beat the file: status %d, %s%s", status, stdout, stderr)
	}
	// The card keeps a flag of its own that the file may set too.
	path = settingsFile(t, "paper = \"letter\"\n")
	if status, _, stderr := try(t, "", "card", "--settings", path, "-o", filepath.Join(t.TempDir(), "c.png"), file); status != exitOK {
		t.Error(stderr)
	}
}

func TestSettingsFileFound(t *testing.T) {
	path := defaultSettingsFile()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte("speed = 444\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	defer os.Remove(path)
	if _, stdout, _ := try(t, "", "settings"); !strings.Contains(stdout, "speed = 444") {
		t.Errorf("the file in the configuration folder was not read:\n%s", stdout)
	}
	if _, stdout, _ := try(t, "", "settings", "--settings", "none"); !strings.Contains(stdout, "speed = 600") {
		t.Errorf("the file was read in spite of none:\n%s", stdout)
	}
}

func TestSettingsFileWrong(t *testing.T) {
	for text, want := range map[string]string{
		"\nsped = 3\n":                      ":2: there is no setting \"sped\"; did you mean speed?",
		"speed = 0\n":                       ":1: speed: expected 1 to 10000",
		"speed = \"fast\"\n":                ":1: speed: expected a number",
		"speed = [1]\n":                     ":1: speed: expected a number or a text",
		"speed = true\n":                    ":1: speed: expected a number or a text",
		"# a\n\nunits = \"ell\"\n":          ":3: units: expected mm, inch or both",
		"hoop = \"wide\"\n":                 ":1: hoop: expected a width and a height",
		"[limits]\nthin-covr = 1\n":         ":2: no rule has a limit \"thin-covr\"; did you mean thin-cover?",
		"[limits]\nthin-cover = 1.5\n":      ":2: thin-cover: expected 0 to 1",
		"[limits]\nthin-cover = [1]\n":      ":2: thin-cover: expected a number",
		"limits = 3\n":                      ":1: ",
		"[hoops]\nx = \"wide\"\n":           ":2: hoop x: expected a width",
		"[stops]\nx = 1\n":                  ":1: there is no setting \"stops\"",
		"speed = 3\nspeed = 4\n":            ":2: ",
		"speed = 3\nhoop = \"5x7\n":         ":2: ",
		"hoop = \"\\u001b[31m\"\n":          ":1: hoop: expected",
		"\"\\u001b[31m\" = 1\n":             ":1: there is no setting",
		"speed = 3\n\x00\n":                 ":2: ",
		"speed = 99999999999999999999\n":    ":1: this number is too large",
		"speed = 1e700\n":                   ":1: this number is too large",
		"\nthread = 3\n":                    ":2: thread: expected [[thread]] on a line of its own",
		"'' = 3\n":                          ":1: there is no setting \"\"",
		"thread = [{name = {a = 1}}]\n":     ":1: thread: name: expected a number or a text in quotes",
		"thread = [1]\n":                    ":1: thread: expected [[thread]]",
		"[thread]\nname = \"a\"\n":          ":1: thread: expected [[thread]]",
		"[[thread]]\nname = \"a\"\n":        ":1: a has no colour; expected colour =",
		strings.Repeat("#", 1<<20) + "\n\n": "too many for a settings file",
	} {
		path := settingsFile(t, text)
		status, stdout, stderr := try(t, "", "settings", "--settings", path)
		if status != exitUsage || stdout != "" || !strings.Contains(stderr, want) || !strings.Contains(stderr, path) || strings.Contains(stderr, "\x1b") {
			t.Errorf("%.40q: status %d, stdout %q, stderr %q, want %q", text, status, stdout, stderr, want)
		}
	}
	for _, path := range []string{filepath.Join(t.TempDir(), "absent.toml"), t.TempDir()} {
		if status, _, stderr := try(t, "", "settings", "--settings", path); status != exitUsage || !strings.Contains(stderr, path) {
			t.Errorf("%s: status %d, %q", path, status, stderr)
		}
	}
}

// "4 x 4 in" is 100 mm, not 101.6: a true 4 in design does not fit; "6 x 10" may
// be 150x240 or 160x260 (design makers' lists). 5 x 7 in is 130 x 180, which is
// more than it says.
func TestFieldNote(t *testing.T) {
	for size, want := range map[string]string{
		"4x4in": "100 x 100 mm", `4"x4"`: "100 x 100 mm", "10 x 6 in": "150 x 240", "8x12in": "200 x 300 mm",
		"5x7in": "", "101.6x101.6": "", "100x100": "", "": "", "large": "",
		"5x7": "write 5x7in", "4 x 4": "write 4x4in", "5x7mm": "", "0.5x0.5in": "",
	} {
		if got := fieldNote(size, words.Both); (got == "") != (want == "") || !strings.Contains(got, want) {
			t.Errorf("%q: %q, want %q", size, got, want)
		}
	}
}

// The rules to look at may stand in the settings file, as a list or as its flag takes
// them, and are chosen before any runs.
func TestRulesOfSettingsFile(t *testing.T) {
	for _, text := range []string{"only = [\"thin-cover\", \"no-tie\"]\nskip = [\"no-tie\"]\n", "only = \"thin-cover,no-tie\"\nskip = \"no-tie\"\n"} {
		data, err := demo.Files.ReadFile(demo.Faulty)
		if err != nil {
			t.Fatal(err)
		}
		file := write(t, t.TempDir(), demo.Faulty, data)
		status, out, complaint := try(t, "", "check", "--json", "--settings", settingsFile(t, text), file)
		var doc report.Document
		if err := json.Unmarshal([]byte(out), &doc); err != nil {
			t.Fatalf("%d %s: %v", status, complaint, err)
		}
		rules := map[string]bool{}
		for _, f := range doc.Designs[0].Findings {
			rules[f.Rule] = true
		}
		if len(rules) != 1 || !rules["thin-cover"] {
			t.Errorf("%s: findings of %v", text, rules)
		}
	}
}
