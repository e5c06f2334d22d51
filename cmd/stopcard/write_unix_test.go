//go:build unix

package main

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// Only plain files are replaced, and they keep their mode; a link's own file is.
func TestWriteFileReplacesPlainFilesOnly(t *testing.T) {
	dir := t.TempDir()
	plain := write(t, dir, "plain", []byte("old"))
	if err := os.Chmod(plain, 0o600); err != nil {
		t.Fatal(err)
	}
	link, dangling, folder := filepath.Join(dir, "link"), filepath.Join(dir, "dangling"), filepath.Join(dir, "folder")
	os.Symlink(plain, link)
	os.Symlink(filepath.Join(dir, "nothing"), dangling)
	os.Mkdir(folder, 0o755)
	pipe := filepath.Join(dir, "pipe")
	if err := syscall.Mkfifo(pipe, 0o644); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{dangling: "leads nowhere", folder: "is a folder", pipe: "no plain file", os.DevNull: "no plain file"} {
		if err := writeFile(path, true, "", hello); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", path, err, want)
		}
	}
	if err := writeFile(link, true, "", hello); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link became %v, %v", info.Mode(), err)
	}
	data, _ := os.ReadFile(plain)
	if info, _ := os.Stat(plain); string(data) != "hello" || info.Mode().Perm() != 0o600 {
		t.Errorf("%q with mode %v", data, info.Mode())
	}
	if err := writeFile(link, true, plain, hello); err == nil {
		t.Error("the input was replaced through a link")
	}
	old := syscall.Umask(0o077)
	defer syscall.Umask(old)
	if err := writeFile(filepath.Join(dir, "new"), false, "", hello); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(filepath.Join(dir, "new")); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("under umask 077 a new file has mode %v, %v", info.Mode(), err)
	}
}

// stopped starts a command line, sends it an interrupt once it is under way, and gives
// how it ended.
func stopped(t *testing.T, under func(), cmd *exec.Cmd) (status int, took time.Duration, said string) {
	t.Helper()
	var errs strings.Builder
	cmd.Stderr = &errs
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	under()
	begin := time.Now()
	cmd.Process.Signal(syscall.SIGTERM)
	cmd.Wait()
	return cmd.ProcessState.ExitCode(), time.Since(begin), errs.String()
}

// A verb that waits for standard input, or for a pipe that nobody writes to, ends when
// it is told to.
func TestStoppedWhileWaiting(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe.dst")
	if err := syscall.Mkfifo(pipe, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"check", "-"}, {"card", "-"}, {"check", pipe}} {
		cmd := command(args...)
		in, err := cmd.StdinPipe()
		if err != nil {
			t.Fatal(err)
		}
		status, took, said := stopped(t, func() { time.Sleep(300 * time.Millisecond) }, cmd)
		in.Close()
		if status != exitStopped || took > 10*time.Second {
			t.Errorf("%q: status %d after %v: %q", args, status, took, said)
		}
	}
}

// A write that is stopped leaves the old file whole and no other behind.
func TestStoppedWrite(t *testing.T) {
	if path := os.Getenv("STOPCARD_TEST_STOP"); path != "" {
		ctx := untilStopped()
		err := writeFile(path, true, "", func(w io.Writer) error {
			w.Write(make([]byte, 1<<20)) // past every buffer
			fmt.Println("half")
			<-ctx.Done()
			return nil // it is written to the end all the same
		})
		fmt.Fprintln(os.Stderr, err)
		time.Sleep(time.Minute)
		return
	}
	dir := t.TempDir()
	path := write(t, dir, "card.png", []byte("old"))
	cmd := exec.Command(os.Args[0], "-test.run", "^TestStoppedWrite$")
	cmd.Env = append(os.Environ(), "STOPCARD_TEST_STOP="+path)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	status, _, said := stopped(t, func() { io.ReadFull(out, make([]byte, 4)) }, cmd)
	old, _ := os.ReadFile(path)
	left, _ := os.ReadDir(dir)
	if status != exitStopped || string(old) != "old" || len(left) != 1 || !strings.Contains(said, "nothing was written") {
		t.Errorf("status %d, the file holds %d bytes, %d files are left, said %q", status, len(old), len(left), said)
	}
}

// A document that is stopped while the next file is waited for is ended all the same, and
// says that it is not complete.
func TestStoppedDocumentIsWhole(t *testing.T) {
	dir := t.TempDir()
	file, pipe := write(t, dir, "block.dst", small(t, false)), filepath.Join(dir, "pipe.dst")
	if err := syscall.Mkfifo(pipe, 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := command("check", "--json", file, pipe)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	begun, ended := make(chan bool), make(chan bool)
	go func() {
		first := make([]byte, 1)
		io.ReadFull(out, first)
		text.Write(first)
		close(begun)
		io.Copy(&text, out)
		close(ended)
	}()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	<-begun
	time.Sleep(200 * time.Millisecond)
	cmd.Process.Signal(syscall.SIGTERM)
	<-ended
	cmd.Wait()
	if doc := decodeDocument(t, text.String()); doc.Complete || cmd.ProcessState.ExitCode() != exitStopped {
		t.Errorf("status %d, complete %v", cmd.ProcessState.ExitCode(), doc.Complete)
	}
}
