package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse/report"
	"github.com/stopcard/stopcard/stitchfile"
)

// Whatever runs beside it, the output comes in the order of the paths, and a bad
// file takes nothing else with it.
func TestBatchOrder(t *testing.T) {
	paths := smallFiles(t, 12)
	for i, bad := range map[int]string{3: "", 7: "This is no stitch file."} {
		if err := os.WriteFile(paths[i], []byte(bad), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, jobs := range []string{"1", "2", "8"} {
		status, stdout, stderr := try(t, "", slices.Concat([]string{"check", "--brief", "--jobs", jobs}, paths)...)
		if status != exitUnreadable {
			t.Errorf("%s jobs: status %d, %s", jobs, status, stderr)
		}
		var got []string
		for line := range strings.Lines(stdout) {
			if i := strings.Index(line, "block-"); i >= 0 {
				got = append(got, line[i:i+9])
			}
		}
		want := []string{}
		for _, list := range [][]int{{0, 1, 2, 4, 5, 6, 8, 9, 10, 11}, {3, 7}} {
			for _, i := range list {
				want = append(want, fmt.Sprintf("block-%03d", i))
			}
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s jobs: %s", jobs, diff)
		}
		for _, say := range []string{"10 designs: ", "2 files could not be read:"} {
			if !strings.Contains(stdout, say) {
				t.Errorf("no %q in the summary: %s", say, stdout)
			}
		}
		if strings.Count(stderr, "\n") != 2 || !strings.Contains(stderr, "file is empty") {
			t.Errorf("%s jobs: stderr %q", jobs, stderr)
		}
	}
}

// The document that is written design by design is the one that the library
// describes, and each line of --lines is one too.
func TestBatchJSON(t *testing.T) {
	paths := smallFiles(t, 3)
	os.WriteFile(paths[1], nil, 0o644)
	status, stdout, _ := try(t, "", append([]string{"check", "--json"}, paths...)...)
	if status != exitUnreadable {
		t.Errorf("status %d", status)
	}
	whole := decodeDocument(t, stdout)
	if len(whole.Designs) != 2 || len(whole.Unreadable) != 1 || whole.Unreadable[0].Path != paths[1] || !whole.Complete {
		t.Errorf("%d designs, %+v, complete %v", len(whole.Designs), whole.Unreadable, whole.Complete)
	}
	var again bytes.Buffer
	e := json.NewEncoder(&again)
	e.SetIndent("", "  ")
	if err := e.Encode(whole); err != nil || again.String() != stdout {
		t.Errorf("the document is not as the library writes it: %v\n%s", err, cmp.Diff(again.String(), stdout))
	}

	_, lines, _ := try(t, "", append([]string{"check", "--lines"}, paths...)...)
	var sum report.Document
	for line := range strings.Lines(lines) {
		doc := decodeDocument(t, line)
		sum.Designs = append(sum.Designs, doc.Designs...)
		sum.Unreadable = append(sum.Unreadable, doc.Unreadable...)
	}
	if diff := cmp.Diff(whole.Designs, sum.Designs); diff != "" || len(sum.Unreadable) != 1 || strings.Count(lines, "\n") != 3 {
		t.Errorf("%d lines: %s", strings.Count(lines, "\n"), diff)
	}

	// A line is complete only where its design is.
	data, err := os.ReadFile(paths[0])
	if err != nil {
		t.Fatal(err)
	}
	behind := write(t, t.TempDir(), "behind.dst", append(slices.Clone(data), data...)) // a second file behind it
	cut := write(t, t.TempDir(), "cut.dst", data[:len(data)-9])
	_, lines, _ = try(t, "", "check", "--lines", paths[0], paths[1], behind, cut, paths[2])
	var complete []bool
	for line := range strings.Lines(lines) {
		complete = append(complete, decodeDocument(t, line).Complete)
	}
	if want := []bool{true, false, false, false, true}; !slices.Equal(complete, want) {
		t.Errorf("complete: %v, want %v", complete, want)
	}

	// Nothing could be read: still a document.
	status, stdout, _ = try(t, "", "check", "--json", paths[1])
	if doc := decodeDocument(t, stdout); status != exitUnreadable || len(doc.Designs) != 0 || len(doc.Unreadable) != 1 {
		t.Errorf("status %d, %+v", status, doc)
	}
}

func decodeDocument(t *testing.T, text string) report.Document {
	t.Helper()
	var doc report.Document
	d := json.NewDecoder(strings.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&doc); err != nil {
		t.Fatalf("%v in %.200s", err, text)
	}
	if doc.Schema != report.Schema || doc.Settings.SpeedPerMinute != 600 {
		t.Errorf("schema %q, settings %+v", doc.Schema, doc.Settings)
	}
	return doc
}

// stopAfter ends a context when so many bytes have been written.
type stopAfter struct {
	bytes.Buffer
	n    int
	stop func()
}

func (s *stopAfter) Write(p []byte) (int, error) {
	if s.Len() > s.n {
		s.stop()
	}
	return s.Buffer.Write(p)
}

// An interrupt ends the run early, with whole documents and a status that says so.
func TestBatchStopped(t *testing.T) {
	paths := smallFiles(t, 40)
	for _, form := range []string{"--json", "--lines", "--brief"} {
		ctx, stop := context.WithCancel(context.Background())
		out := &stopAfter{n: 300, stop: stop}
		var errs bytes.Buffer
		status := run(append([]string{"check", form, "--jobs", "2"}, paths...), &session{stdout: out, stderr: &errs, ctx: ctx})
		if status != exitStopped || !strings.Contains(errs.String(), "stopped after") {
			t.Errorf("%s: status %d, %q", form, status, errs.String())
		}
		switch form {
		case "--json":
			if doc := decodeDocument(t, out.String()); doc.Complete || len(doc.Designs) >= 40 {
				t.Errorf("complete %v, %d designs", doc.Complete, len(doc.Designs))
			}
		case "--lines":
			for line := range strings.Lines(out.String()) {
				decodeDocument(t, line)
			}
		}
	}
}

// A fault in an analyser is the trouble of one file.
func TestReadSurvivesPanic(t *testing.T) {
	in := newInputFlags()
	got, err := in.read(context.Background(), source{path: "x", load: func() (*stitchfile.Design, error) { panic("off the rails") }})
	if got != nil || err == nil || !strings.Contains(err.Error(), "off the rails") {
		t.Errorf("%v, %v", got, err)
	}
}

func TestProgress(t *testing.T) {
	var shown, held bytes.Buffer
	bar := newProgress(&shown, 4, 0)
	bar.start = bar.start.Add(-3 * time.Second)
	for range 3 {
		bar.next = time.Time{}
		bar.add()
	}
	const last = "reading [===============     ] 3/4, 1.0 designs/s, 1s left"
	if !strings.HasSuffix(shown.String(), "\r"+last) {
		t.Errorf("%q does not end in %q", shown.String(), last)
	}
	before := shown.Len()
	bar.add()
	if shown.Len() > before {
		t.Error("the line changes faster than it can be read")
	}
	bar.clear()
	if blank := "\r" + strings.Repeat(" ", len(last)) + "\r"; !strings.HasSuffix(shown.String(), blank) {
		t.Errorf("%q is not cleared", shown.String())
	}
	newProgress(&held, 4, time.Hour).add()
	if held.Len() > 0 {
		t.Errorf("short work shows progress: %q", held.String())
	}
}

// Output that cannot be written is no success.
func TestOutputFails(t *testing.T) {
	var errs bytes.Buffer
	status := run([]string{"formats"}, &session{stdout: brokenWriter{}, stderr: &errs})
	if status != exitUsage || !strings.Contains(errs.String(), "no space left") {
		t.Errorf("status %d, %q", status, errs.String())
	}
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestOnlySkip(t *testing.T) {
	file := write(t, t.TempDir(), "long.dst", small(t, true))
	rules := func(args ...string) []string {
		_, stdout, stderr := try(t, "", slices.Concat([]string{"check", "--json"}, args, []string{file})...)
		var out []string
		for _, f := range decodeDocument(t, stdout+stderr).Designs[0].Findings {
			out = append(out, f.Rule)
		}
		return slices.Compact(out)
	}
	if got := rules("--only", "long-stitch"); !slices.Equal(got, []string{"long-stitch"}) {
		t.Errorf("only long-stitch: %v", got)
	}
	if got := rules("--skip", "long-stitch"); slices.Contains(got, "long-stitch") {
		t.Errorf("skip long-stitch: %v", got)
	}
	if got := rules("--only", "long-stitch,header-disagrees", "--skip", "long-stitch"); slices.Contains(got, "long-stitch") {
		t.Errorf("only and skip: %v", got)
	}
	for _, args := range [][]string{{"--only", "long-stich"}, {"--skip", "nonsense"}, {"--json", "--lines"}, {"--json", "--brief"}} {
		if status, _, stderr := try(t, "", slices.Concat([]string{"check"}, args, []string{file})...); status != exitUsage {
			t.Errorf("%v: status %d, %q", args, status, stderr)
		}
	}
	status, _, _ := try(t, "", "check", "--only", "long-stitch", file)
	strict, _, _ := try(t, "", "check", "--only", "long-stitch", "--fail-on", "warning", file)
	if status != exitOK || strict != exitFindings {
		t.Errorf("a warning gives status %d, and %d with --fail-on warning", status, strict)
	}
}

func TestClip(t *testing.T) {
	for _, c := range []struct {
		in    string
		width int
		want  string
	}{{"block", 10, "block"}, {"a very long name", 8, "a very …"}, {"漢字漢字漢字", 7, "漢字漢…"}, {"", 3, ""}} {
		if got := clip(c.in, c.width); got != c.want {
			t.Errorf("clip(%q, %d) = %q, want %q", c.in, c.width, got, c.want)
		}
	}
	if got := clip("a"+strings.Repeat("\u0301", 1e5), 10); len(got) > 400 {
		t.Errorf("%d bytes of marks on one letter", len(got))
	}
	if got := padEnd("folder/with/a/long/name/block-5in.dst", 16); got != "…/block-5in.dst " && got != "…e/block-5in.dst" {
		t.Errorf("%q", got)
	}
}
