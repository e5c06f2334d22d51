package main

import (
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"
	"github.com/stopcard/stopcard/analyse/report"
)

// complete lets bash complete a command line and lists what it offers.
func complete(t *testing.T, script, dir string, line ...string) []string {
	t.Helper()
	cmd := exec.Command("bash", "-c", script+`
COMP_WORDS=("$@")
COMP_CWORD=$(($# - 1))
_stopcard
printf '%s\n' "${COMPREPLY[@]}"`, "bash")
	cmd.Args = append(cmd.Args, line...)
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %v: %s", line, err, out)
	}
	return strings.FieldsFunc(string(out), func(r rune) bool { return r == '\n' })
}

func TestBashCompletion(t *testing.T) {
	if _, err := exec.LookPath("bash"); err != nil {
		t.Skip("no bash here")
	}
	_, script, _ := try(t, "", "completion", "bash")
	dir := filepath.Dir(demoFile(t, "kettle-100.dst"))

	var names []string
	for _, v := range verbs() {
		names = append(names, v.name)
		var flags []string
		v.eachFlag(func(f *pflag.Flag) { flags = append(flags, "--"+f.Name) })
		if got := complete(t, script, dir, "stopcard", v.name, "--"); !slices.Equal(got, flags) {
			t.Errorf("flags of %s: %v, want %v", v.name, got, flags)
		}
	}
	got := complete(t, script, dir, "stopcard", "")
	for _, name := range append(names, "help", "kettle-100.dst") {
		if !slices.Contains(got, name) {
			t.Errorf("no %s among %v", name, got)
		}
	}
	var limits []string
	for _, l := range report.Limits() {
		limits = append(limits, l.Name+"=")
	}
	for _, c := range []struct{ line, want []string }{
		{[]string{"che"}, []string{"check"}},
		{[]string{"check", "--fail-on", ""}, []string{"note", "warning", "fault"}},
		{[]string{"check", "--fail-on", "=", "w"}, []string{"warning"}},
		{[]string{"check", "--fail-on", "="}, []string{"note", "warning", "fault"}},
		{[]string{"check", "--only", "long"}, []string{"long-stitch"}},
		{[]string{"check", "--speed", ""}, nil},
		{[]string{"check", "--limit", ""}, limits},
		{[]string{"check", "kett"}, []string{"kettle-100.dst"}},
		{[]string{"card", "-o", "kett"}, []string{"kettle-100.dst"}},
		{[]string{"completion", "z"}, []string{"zsh"}},
		{[]string{"help", "sett"}, []string{"settings"}},
		{[]string{"kettle-100.dst", "--forc"}, []string{"--force"}},
	} {
		if got := complete(t, script, dir, append([]string{"stopcard"}, c.line...)...); !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.line, got, c.want)
		}
	}
}

// The other two are read by their shells where those are installed, and must
// name every verb and flag in any case.
func TestOtherCompletion(t *testing.T) {
	for shell, flag := range map[string]string{"zsh": "'--%s", "fish": " -l %s "} {
		status, script, _ := try(t, "", "completion", shell)
		if status != exitOK {
			t.Errorf("%s: status %d", shell, status)
		}
		for _, v := range verbs() {
			v.eachFlag(func(f *pflag.Flag) {
				if want := strings.ReplaceAll(flag, "%s", f.Name); !strings.Contains(script, want) {
					t.Errorf("%s: no %q of %s", shell, want, v.name)
				}
			})
		}
		if _, err := exec.LookPath(shell); err != nil {
			t.Logf("no %s here to read the script", shell)
			continue
		}
		cmd := exec.Command(shell, "-n")
		cmd.Stdin = strings.NewReader(script)
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Errorf("%s: %v: %s", shell, err, out)
		}
	}
	for _, args := range [][]string{{"completion"}, {"completion", "tcsh"}, {"completion", "bash", "zsh"}} {
		if status, _, stderr := try(t, "", args...); status != exitUsage || stderr == "" {
			t.Errorf("%v: status %d", args, status)
		}
	}
}

func TestManPage(t *testing.T) {
	status, page, _ := try(t, "", "man")
	if status != exitOK {
		t.Errorf("status %d", status)
	}
	for _, v := range verbs() {
		own, shared := split(must(v.flagSet()))
		for _, set := range []*pflag.FlagSet{own, shared} {
			set.VisitAll(func(f *pflag.Flag) {
				if !strings.Contains(page, roff("--"+f.Name)) {
					t.Errorf("nothing on --%s of %s", f.Name, v.name)
				}
			})
		}
		if !strings.Contains(page, ".SS "+roff(v.name)) {
			t.Errorf("nothing on %s", v.name)
		}
	}
	if _, err := exec.LookPath("groff"); err != nil {
		t.Skip("no groff here to read the page")
	}
	cmd := exec.Command("groff", "-man", "-Tutf8", "-ww", "-z")
	cmd.Stdin = strings.NewReader(page)
	if out, err := cmd.CombinedOutput(); err != nil || len(out) > 0 {
		t.Errorf("groff: %v: %s", err, out)
	}
}

func must(f *pflag.FlagSet, _ func(*session, []string) int) *pflag.FlagSet { return f }

func TestVersion(t *testing.T) {
	status, stdout, _ := try(t, "", "version")
	if status != exitOK || !strings.Contains(stdout, "stopcard") || !strings.Contains(stdout, "go1.") {
		t.Errorf("status %d, %q", status, stdout)
	}
}
