package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stopcard/stopcard/stitchfile"
)

const nasty = "\x1b]0;gone\x07\x1b[31m\r\u202e\u0085evil"

// shows fails where text holds anything that could steer a terminal.
func shows(t *testing.T, what, text string) {
	t.Helper()
	for _, r := range text {
		if r != '\n' && !unicode.IsGraphic(r) {
			t.Errorf("%s: %q reaches the terminal in %q", what, r, text)
			return
		}
	}
}

// Names and labels from files are shown without their control characters, by
// every verb that shows them.
func TestHostileNames(t *testing.T) {
	dir := t.TempDir()
	data := small(t, true)
	copy(data[3:19], "\x1b[31mred\x07\x1b]0;x\x07")
	var paths []string
	if runtime.GOOS != "windows" {
		paths = append(paths, write(t, dir, nasty+".dst", data), filepath.Join(dir, nasty+"-absent.dst"))
	}
	paths = append(paths, write(t, dir, "label.dst", data))
	writeZIP(t, filepath.Join(dir, "pack.zip"), data, "a.dst", nasty+".dst", "../../"+nasty+"/b.dst")
	writeZIP(t, filepath.Join(dir, "bad.zip"), []byte("no stitches"), nasty+".dst")
	paths = append(paths, filepath.Join(dir, "pack.zip"), filepath.Join(dir, "bad.zip"))
	for _, args := range [][]string{{"check"}, {"check", "--brief"}, {"gather"}, {"gather", "--csv"}, {"draw", "--width", "16", "--force"}, {}} {
		t.Chdir(t.TempDir())
		_, stdout, stderr := try(t, "", append(args, paths...)...)
		shows(t, fmt.Sprint(args, " stdout"), stdout)
		shows(t, fmt.Sprint(args, " stderr"), stderr)
		if len(args) > 0 && stdout == "" {
			t.Errorf("%v: nothing was shown: %s", args, stderr)
		}
	}
	for _, args := range [][]string{{nasty}, {"check", "--" + nasty}, {"check", "--only", nasty}, {"check", "--hoop", nasty, "x"}, {"check", "--settings", nasty}} {
		_, _, stderr := try(t, "", args...)
		shows(t, fmt.Sprintf("%q", args), stderr)
	}
}

// Names in a pack do not lead out of the folder, and two designs of one name do
// not share an output.
func TestHostileOutputs(t *testing.T) {
	outer := t.TempDir()
	work := filepath.Join(outer, "a", "work")
	if err := os.MkdirAll(work, 0o755); err != nil {
		t.Fatal(err)
	}
	t.Chdir(work)
	long := strings.Repeat("long", 500)
	pack := filepath.Join(outer, "pack.zip")
	writeZIP(t, pack, small(t, false), "../../up.dst", "/abs.dst", `..\..\back.dst`, "one/same.dst", "two/same.dst", "c:evil.dst", "-o.dst", ".dst", long+".dst", "NUL?.dst")
	status, stdout, stderr := try(t, "", "draw", "--width", "16", pack)
	if status != exitOK {
		t.Fatalf("status %d: %s%s", status, stdout, stderr)
	}
	files, _ := os.ReadDir(work)
	if len(files) != 10 {
		t.Errorf("%d pictures of 10: %v", len(files), files)
	}
	for _, f := range files {
		if strings.ContainsAny(f.Name(), `:?\/`) || f.Name()[0] == '-' || len(f.Name()) > 200 {
			t.Errorf("output named %q", f.Name())
		}
	}
	for _, dir := range []string{outer, filepath.Dir(work)} {
		left, _ := os.ReadDir(dir)
		for _, f := range left {
			if !slices.Contains([]string{"a", "work", "pack.zip"}, f.Name()) {
				t.Errorf("%s was written to %s", f.Name(), dir)
			}
		}
	}
}

func TestOutputRefused(t *testing.T) {
	dir := t.TempDir()
	input := write(t, dir, "in.dst", small(t, false))
	pack := filepath.Join(dir, "pack.zip")
	writeZIP(t, pack, small(t, false), "in.dst")
	there := write(t, dir, "there.png", []byte("old"))
	folder := filepath.Join(dir, "folder.png")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	refused := [][]string{
		{"draw", "-o", input, "--force", input},
		{"draw", "-o", dir + "/./in.dst", "--force", input},
		{"draw", "-o", pack, "--force", pack},
		{"draw", "-o", there, input},
		{"draw", "-o", folder, "--force", input},
		{"draw", "-o", filepath.Join(dir, "absent", "x.png"), input},
		{"draw", "-o", filepath.Join(there, "x.png"), input},
		{"card", "-o", input, "--force", input},
		{"demo", "-o", there},
	}
	for _, link := range []func(string, string) error{os.Symlink, os.Link} {
		name := filepath.Join(dir, fmt.Sprintf("link%d.png", len(refused)))
		if err := link(input, name); err == nil {
			refused = append(refused, []string{"draw", "-o", name, "--force", input})
		}
	}
	if runtime.GOOS == "linux" {
		refused = append(refused, []string{"draw", "-o", "/proc/self/x.png", input}, []string{"draw", "-o", "/dev/full/x.png", input})
	}
	if os.Getuid() > 0 {
		locked := filepath.Join(dir, "locked")
		if err := os.Mkdir(locked, 0o555); err != nil {
			t.Fatal(err)
		}
		refused = append(refused, []string{"draw", "-o", filepath.Join(locked, "x.png"), input})
	}
	before, _ := os.ReadFile(input)
	list, _ := os.ReadDir(dir)
	for _, args := range refused {
		status, stdout, stderr := try(t, "", args...)
		if status != exitUsage || stdout != "" || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%q: status %d, %q %q", args, status, stdout, stderr)
		}
	}
	after, _ := os.ReadFile(input)
	old, _ := os.ReadFile(there)
	if now, _ := os.ReadDir(dir); !bytes.Equal(before, after) || string(old) != "old" || len(now) != len(list) {
		t.Errorf("a refused output changed something: %q, %v", old, now)
	}
}

// A disk that fills up leaves no half of a file behind.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	path := write(t, dir, "out.png", []byte("old"))
	err := writeFile(path, true, "", func(w io.Writer) error {
		for range 100 {
			if _, err := w.Write(make([]byte, 100)); err != nil {
				return err
			}
		}
		return fmt.Errorf("write %s: no space left on device", path)
	})
	old, _ := os.ReadFile(path)
	if left, _ := os.ReadDir(dir); err == nil || string(old) != "old" || len(left) != 1 {
		t.Errorf("%v, %q, %v", err, old, left)
	}

	disk := filepath.Join(dir, "disk")
	if err := os.Mkdir(disk, 0o755); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=16k", "tmpfs", disk).CombinedOutput(); err != nil {
		t.Skipf("no small disk can be mounted here: %s", bytes.TrimSpace(out))
	}
	defer exec.Command("umount", disk).Run()
	input := write(t, dir, "in.dst", small(t, true))
	status, stdout, stderr := try(t, "", "draw", "--width", "2000", "-o", filepath.Join(disk, "x.png"), input)
	if left, _ := os.ReadDir(disk); status != exitUsage || stdout != "" || !strings.Contains(stderr, "no space left") || len(left) != 0 {
		t.Errorf("status %d, %q %q, %v", status, stdout, stderr, left)
	}
}

// A file may be changed by another program while it is read.
func TestShrinkingFile(t *testing.T) {
	dir := t.TempDir()
	data := small(t, true)
	path := write(t, dir, "in.dst", data)
	pack, err := stitchfile.OpenPack(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, size := range []int64{int64(len(data)) - 30, 600, 100, 0} {
		for e := range pack.Designs() {
			if err := os.Truncate(path, size); err != nil {
				t.Fatal(err)
			}
			got, err := newInputFlags().read(context.Background(), source{path: e.Path, load: e.Decode})
			if err == nil && got.err == nil {
				t.Errorf("%d of %d bytes passed for the whole", size, len(data))
			}
		}
		os.WriteFile(path, data, 0o644)
	}
}

func TestFoldersAndLinks(t *testing.T) {
	dir := t.TempDir()
	named := filepath.Join(dir, "folder.dst")
	if err := os.Mkdir(named, 0o755); err != nil {
		t.Fatal(err)
	}
	if status, _, stderr := try(t, "", "check", named); status != exitUnreadable || !strings.Contains(stderr, "no stitch file in it") {
		t.Errorf("an empty folder: status %d, %q", status, stderr)
	}
	write(t, named, "in.dst", small(t, false))
	if err := os.Symlink(dir, filepath.Join(named, "round.dst")); err != nil {
		t.Skipf("no links here: %v", err)
	}
	os.Symlink("self", filepath.Join(dir, "self"))
	status, stdout, stderr := try(t, "", "check", "--brief", dir)
	if status != exitOK || strings.Count(stdout, "in.dst") != 1 {
		t.Errorf("a loop of links: status %d, %s%s", status, stdout, stderr)
	}
	if status, _, stderr := try(t, "", "check", filepath.Join(dir, "self")); status != exitUnreadable || strings.Count(stderr, "\n") != 1 {
		t.Errorf("a link to itself: status %d, %q", status, stderr)
	}
}

func TestManyEntries(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	names := make([]string, 10_000)
	for i := range names {
		names[i] = fmt.Sprintf("%02d/block-%04d.dst", i/100, i)
	}
	pack := filepath.Join(t.TempDir(), "large.zip")
	writeZIP(t, pack, small(t, false), names...)
	status, stdout, stderr := try(t, "", "check", "--brief", pack)
	lines := strings.Split(strings.TrimSpace(stdout), "\n")
	if status != exitOK || len(lines) != 10_002 || !strings.HasPrefix(lines[10_001], "10000 designs") || !strings.Contains(lines[10_000], "block-9999") {
		t.Errorf("status %d, %d lines, the last %q; %.200s", status, len(lines), lines[len(lines)-1], stderr)
	}
}

// A reader of the output that goes away, as head does, ends the program quietly.
func TestClosedPipe(t *testing.T) {
	sh, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no shell here")
	}
	for _, args := range []string{"settings", "check --lines", "check"} {
		if strings.HasPrefix(args, "check") {
			for _, p := range smallFiles(t, 20) {
				args += " " + p
			}
		}
		cmd := exec.Command(sh, "-c", os.Args[0]+" "+args+" | head -n 1")
		cmd.Env = command().Env
		out, err := cmd.CombinedOutput()
		if err != nil || bytes.Count(out, []byte("\n")) != 1 {
			t.Errorf("%.20s: %v, %q", args, err, out)
		}
	}
}

// A write that is killed leaves the old file whole.
func TestKilledWrite(t *testing.T) {
	if path := os.Getenv("STOPCARD_TEST_HALF"); path != "" {
		writeFile(path, true, "", func(w io.Writer) error {
			w.Write(make([]byte, 1<<20)) // past every buffer
			fmt.Println("half")
			time.Sleep(time.Minute)
			return nil
		})
		return
	}
	path := write(t, t.TempDir(), "card.png", []byte("old"))
	cmd := exec.Command(os.Args[0], "-test.run", "^TestKilledWrite$")
	cmd.Env = append(os.Environ(), "STOPCARD_TEST_HALF="+path)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	io.ReadFull(out, make([]byte, 4))
	cmd.Process.Kill()
	cmd.Wait()
	if old, _ := os.ReadFile(path); string(old) != "old" {
		t.Errorf("the old file holds %d bytes", len(old))
	}
}

// An interrupt from the keyboard ends a long run with whole lines.
func TestInterrupted(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no interrupt can be sent on Windows")
	}
	cmd := command(append([]string{"check", "--lines", "--jobs", "1"}, smallFiles(t, 300)...)...)
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	first := make([]byte, 100)
	io.ReadFull(out, first)
	cmd.Process.Signal(os.Interrupt)
	rest, _ := io.ReadAll(out)
	cmd.Wait()
	text := string(append(first, rest...))
	if cmd.ProcessState.ExitCode() != exitStopped || !strings.Contains(errs.String(), "stopped after") || !strings.HasSuffix(text, "}\n") || strings.Count(text, "\n") >= 300 {
		t.Errorf("status %d, %q, %d lines", cmd.ProcessState.ExitCode(), errs.String(), strings.Count(text, "\n"))
	}
}
