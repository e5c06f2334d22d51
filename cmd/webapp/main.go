// Command webapp writes Stopcard as one HTML file that works by itself in a browser:
//
//	go run ./cmd/webapp -o stopcard.html
//
// The library is built for the browser and packed into the page, which loads nothing
// and sends nothing: its content policy allows no connection.
package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/spf13/pflag"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, os.Args[1:], os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "webapp:", err)
		os.Exit(1)
	}
}

// own is the module that the page is built from.
const own = "github.com/stopcard/stopcard"

func run(ctx context.Context, args []string, told io.Writer) error {
	f := pflag.NewFlagSet("webapp", pflag.ContinueOnError)
	out := f.StringP("output", "o", "stopcard.html", "file to write")
	force := f.Bool("force", false, "replace an existing file")
	if err := f.Parse(args); err != nil {
		if err == pflag.ErrHelp {
			return nil
		}
		return err
	}
	if f.NArg() > 0 {
		return fmt.Errorf("nothing is read but the program itself; got %q", f.Arg(0))
	}
	if _, err := os.Lstat(*out); err == nil && !*force {
		return fmt.Errorf("%s is there already; --force replaces it", *out)
	}
	wasm, glue, err := buildEngine(ctx)
	if err != nil {
		return err
	}
	given, err := licences(ctx)
	if err != nil {
		return err
	}
	page, err := assemble(wasm, glue, given)
	if err != nil {
		return err
	}
	if err := writeWhole(*out, page); err != nil {
		return err
	}
	fmt.Fprintf(told, "wrote %s, %.1f MB\n", *out, float64(len(page))/1e6)
	return nil
}

// busyRooms are where the engine's time goes. The rest is built without inlining, which
// makes the file a sixth smaller and no slower.
var busyRooms = []string{
	own + "/analyse/geom", own + "/analyse/stitches", own + "/analyse/satin", own + "/analyse/applique", own + "/analyse/measure",
	own + "/render", "golang.org/x/image/...",
}

// buildEngine builds the library for the browser, and finds the script that Go's own
// distribution brings to run it. The same source and toolchain give the same bytes.
func buildEngine(ctx context.Context) (wasm, glue []byte, err error) {
	dir, err := os.MkdirTemp("", "stopcard-webapp-*")
	if err != nil {
		return nil, nil, err
	}
	defer os.RemoveAll(dir)
	root, err := exec.CommandContext(ctx, "go", "env", "GOROOT").Output()
	if err != nil {
		return nil, nil, fmt.Errorf("looking for Go's own folder: %w", err)
	}
	goroot := strings.TrimSpace(string(root))
	to := filepath.Join(dir, "engine.wasm")
	args := []string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w -buildid=", "-gcflags=all=-l"}
	for _, busy := range busyRooms {
		args = append(args, "-gcflags="+busy+"=")
	}
	build := exec.CommandContext(ctx, "go", append(args, "-o", to, own+"/cmd/webapp/app")...)
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=")
	var said bytes.Buffer
	build.Stderr = &said
	if err := build.Run(); err != nil {
		return nil, nil, fmt.Errorf("building for the browser: %w\n%s", err, said.Bytes())
	}
	if wasm, err = os.ReadFile(to); err != nil {
		return nil, nil, err
	}
	glue, err = os.ReadFile(filepath.Join(goroot, "lib", "wasm", "wasm_exec.js"))
	return wasm, glue, err
}

// writeWhole writes a file that is there whole or not at all.
func writeWhole(path string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".stopcard-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // nothing is left where all goes well
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(0o644)
	}
	if closing := f.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
