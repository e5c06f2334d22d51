package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/pflag"
)

// A file without a verb gives the findings, and its page from the page verb with
// the same settings.
func TestPlain(t *testing.T) {
	var called []string
	page := verb{name: "page", prepare: func(f *pflag.FlagSet) func(*session, []string) int {
		var in inputFlags
		in.add(f)
		force := f.Bool("force", false, "")
		return func(s *session, paths []string) int {
			return in.each(s, paths, func(got *input) int {
				called = append(called, fmt.Sprint(filepath.Base(got.path), got.report.Stitches, *force, in.Settings.SpeedPerMinute))
				return exitOK
			})
		}
	}}
	data := small(t, false)
	file := write(t, t.TempDir(), "block.dst", data)
	for _, c := range []struct {
		args   []string
		stdin  string
		status int
		want   string
	}{
		{[]string{file}, "", exitOK, "block.dst40 false 600"},
		{[]string{"--speed", "700", file, "--force"}, "", exitOK, "block.dst40 true 700"},
		{[]string{"-"}, string(data), exitOK, "-40 false 600"},
		{[]string{file + ".none"}, "", exitUnreadable, ""},
		{[]string{file, "--no-such"}, "", exitUsage, ""},
	} {
		called = nil
		var out, errs strings.Builder
		s := &session{stdin: strings.NewReader(c.stdin), stdout: &out, stderr: &errs, verbs: []verb{checkVerb, page}}
		status := dispatch(c.args, s)
		if got := strings.Join(called, ";"); status != c.status || got != c.want {
			t.Errorf("%q: status %d, page of %q, want %q; %s", c.args, status, got, c.want, errs.String())
		}
		if c.want != "" && !strings.Contains(out.String(), "1 colour stop") {
			t.Errorf("%q: no findings: %s", c.args, out.String())
		}
		if n := strings.Count(errs.String(), "\n"); c.status != exitOK && n != 1 {
			t.Errorf("%q: %d complaints: %s", c.args, n, errs.String())
		}
	}
	if status, _, stderr := try(t, "", "chek"); status != exitUsage || !strings.Contains(stderr, "did you mean check?") {
		t.Errorf("status %d, %q", status, stderr)
	}
}

func TestHelpForms(t *testing.T) {
	for _, args := range [][]string{{"help"}, {"--help"}, {"-h"}, {"help", "check"}, {"check", "-h"}, {"--speed", "3", "--help"}, {"--version"}} {
		if status, stdout, stderr := try(t, "", args...); status != exitOK || stdout == "" || stderr != "" {
			t.Errorf("%q: status %d, %q %q", args, status, stdout, stderr)
		}
	}
}
