package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// testSet are tests of one package.
type testSet struct{ pkg, run string }

// work is the copy of the module, built.
type work struct {
	dir, bin string
	limit    time.Duration
	short    bool
	source   sync.RWMutex // held for writing while a source file of the copy is changed
}

// variable tells a test binary which constant to change, and to what.
const variable = "MUTATE_CONSTANT"

// setter is put into each package.
const setter = `package %s

import (
	"os"
	"strconv"
	"strings"
)

func mutated(name string, v float64) float64 {
	if to, ok := strings.CutPrefix(os.Getenv(%q), name+"="); ok {
		f, err := strconv.ParseFloat(to, 64)
		if err != nil {
			panic(err)
		}
		return f
	}
	return v
}

`

// build turns constants into variables and builds the tests. What will not
// build that way stays a constant.
func (w *work) build(all []*number) error {
	if err := os.MkdirAll(w.bin, 0o755); err != nil {
		return err
	}
	original := map[string][]byte{}
	for _, c := range all {
		if original[c.file] == nil {
			data, err := os.ReadFile(c.file)
			if err != nil {
				return err
			}
			original[c.file] = data
		}
	}
	for range len(all) + 1 {
		if err := w.rewrite(all, original); err != nil {
			return err
		}
		out, err := w.compile(w.bin)
		if err == nil {
			return nil
		}
		stuck := true
		for _, c := range all {
			if c.kindOf != "" && regexp.MustCompile(`\b`+c.ident+`\b`).MatchString(out) {
				c.kindOf, stuck = "", false
			}
		}
		if stuck {
			return fmt.Errorf("the tests do not build: %w\n%s", err, tail(out, 20))
		}
	}
	return errors.New("the tests do not build")
}

// rewrite makes variables of the constants of which it can.
func (w *work) rewrite(all []*number, original map[string][]byte) error {
	files := map[string][]byte{}
	for name, data := range original {
		files[name] = slices.Clone(data)
	}
	vars := map[string]*strings.Builder{}
	for _, pkg := range looked {
		vars[pkg] = &strings.Builder{}
		fmt.Fprintf(vars[pkg], setter, filepath.Base(pkg), variable)
	}
	// From the end, so that places stay.
	byPlace := slices.Clone(all)
	slices.SortFunc(byPlace, func(a, b *number) int { return b.nameAt - a.nameAt })
	for _, c := range byPlace {
		if c.kindOf == "" {
			continue
		}
		data := files[c.file]
		files[c.file] = slices.Concat(data[:c.nameAt], []byte("_"), data[c.nameAt+len(c.ident):])
		fmt.Fprintf(vars[c.pkg], "// %s may be changed.\nvar %s = %s(mutated(%q, %s))\n", c.ident, c.ident, c.kindOf, c.name, c.literal)
	}
	for name, data := range files {
		if err := os.WriteFile(name, data, 0o644); err != nil {
			return err
		}
	}
	for pkg, b := range vars {
		if err := os.WriteFile(filepath.Join(w.dir, pkg, "mutated.go"), []byte(b.String()), 0o644); err != nil {
			return err
		}
	}
	return nil
}

// compile builds the test binaries into a folder.
func (w *work) compile(to string) (string, error) {
	for _, s := range held {
		if !hasTests(filepath.Join(w.dir, s.pkg)) {
			continue
		}
		cmd := exec.Command("go", "test", "-vet=off", "-c", "-o", binary(to, s.pkg), "./"+s.pkg)
		cmd.Dir = w.dir
		if out, err := cmd.CombinedOutput(); err != nil {
			return string(out), err
		}
	}
	return "", nil
}

func hasTests(dir string) bool {
	names, _ := filepath.Glob(filepath.Join(dir, "*_test.go"))
	return len(names) > 0
}

func binary(bin, pkg string) string {
	return filepath.Join(bin, strings.ReplaceAll(pkg, "/", "-")+".test")
}

// try runs the tests with a constant changed, and reports whether one failed.
func (w *work) try(c *number, to float64) (string, bool) {
	bin, env := w.bin, os.Environ()
	if c != nil && c.kindOf != "" {
		env = append(env, variable+"="+c.name+"="+strconv.FormatFloat(to, 'g', -1, 64))
	}
	if c != nil && c.kindOf == "" {
		var err error
		if bin, err = w.changed(c, to); err != nil {
			return noBuild + err.Error(), false
		}
		defer os.RemoveAll(bin)
	}
	ctx, cancel := context.WithTimeout(context.Background(), w.limit)
	defer cancel()
	for _, s := range held {
		b := binary(bin, s.pkg)
		if _, err := os.Stat(b); err != nil {
			continue
		}
		cmd := exec.CommandContext(ctx, b, "-test.run", s.run, "-test.failfast", "-test.short="+strconv.FormatBool(w.short))
		cmd.Dir, cmd.Env = filepath.Join(w.dir, s.pkg), env
		if out, err := cmd.CombinedOutput(); err != nil {
			return string(out), true
		}
	}
	return "", false
}

// changed builds the tests with a constant changed in the source.
func (w *work) changed(c *number, to float64) (string, error) {
	w.source.Lock()
	defer w.source.Unlock()
	data, err := os.ReadFile(c.file)
	if err != nil {
		return "", err
	}
	defer os.WriteFile(c.file, data, 0o644)
	// Names before it on the line may have become shorter.
	at := regexp.MustCompile(`(?m)^(\s*(?:const )?` + c.ident + `\s+(?:\w+\s+)?=\s*)` + regexp.QuoteMeta(c.literal))
	if len(at.FindAll(data, 2)) != 1 {
		return "", fmt.Errorf("%s: %s is not where it was", c.at, c.name)
	}
	n := at.ReplaceAll(data, []byte("${1}"+strconv.FormatFloat(to, 'f', -1, 64)))
	if err := os.WriteFile(c.file, n, 0o644); err != nil {
		return "", err
	}
	bin, err := os.MkdirTemp(filepath.Dir(w.bin), "bin-")
	if err != nil {
		return "", err
	}
	if out, err := w.compile(bin); err != nil {
		os.RemoveAll(bin)
		return "", fmt.Errorf("%s", out)
	}
	return bin, nil
}

// noBuild begins the answer for a change that the compiler refuses.
const noBuild = "does not build: "

// all tries every change and prints those that no test notices.
func (w *work) all(cs []*number, jobs int) (caught, of int) {
	type change struct {
		*number
		factor, to float64
	}
	var changes []change
	for _, c := range cs {
		for _, f := range []float64{0.8, 1.25} {
			to := c.value * f
			if c.kindOf == "int" || c.kindOf == "" && !strings.Contains(c.literal, ".") {
				if to = math.Round(to); to == c.value {
					to += math.Copysign(1, f-1) // a small count moves by one
				}
			}
			if to != c.value {
				changes = append(changes, change{c, f, to})
			}
		}
	}
	var wait sync.WaitGroup
	var lock sync.Mutex
	next := make(chan change)
	for range jobs {
		wait.Go(func() {
			for ch := range next {
				out, bad := w.try(ch.number, ch.to)
				lock.Lock()
				of++
				if strings.HasPrefix(out, noBuild) {
					of--
					fmt.Printf("no build   %-34s x %-5g\n", ch.name, ch.factor)
				} else if bad {
					caught++
					fmt.Printf("caught     %-34s x %-5g %s\n", ch.name, ch.factor, firstFailure(out))
				} else {
					fmt.Printf("SURVIVED   %-34s x %-5g %s = %g\n", ch.name, ch.factor, ch.at, ch.value)
				}
				lock.Unlock()
			}
		})
	}
	for _, ch := range changes {
		next <- ch
	}
	close(next)
	wait.Wait()
	return caught, of
}

// firstFailure names the test that failed.
func firstFailure(out string) string {
	for line := range strings.Lines(out) {
		if name, ok := strings.CutPrefix(strings.TrimSpace(line), "--- FAIL: "); ok {
			return name
		}
	}
	if strings.Contains(out, "panic:") {
		return "a panic"
	}
	return "no end in time"
}
