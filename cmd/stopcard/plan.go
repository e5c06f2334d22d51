package main

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2"
	"github.com/stopcard/stopcard/analyse/words"
	"github.com/stopcard/stopcard/cmd/internal/settingsfile"
)

// counted is a file with how many blocks of it are to be made; 0 where it was not said.
type counted struct {
	path  string
	count int
}

const mostBlocks = 10_000

// countedPaths parts arguments such as block.pes=6. A file that is called so is that
// file.
func countedPaths(args []string) ([]counted, error) {
	var out []counted
	for _, arg := range args {
		c := counted{path: arg}
		if i := strings.LastIndexByte(arg, '='); i > 0 {
			if _, err := os.Stat(arg); err != nil {
				n, err := strconv.Atoi(arg[i+1:])
				if err != nil || n < 1 || n > mostBlocks {
					return nil, fmt.Errorf("%s: expected a count from 1 to %d after the =", arg, mostBlocks)
				}
				c = counted{arg[:i], n}
			}
		}
		out = append(out, c)
	}
	return out, nil
}

// plan is a quilt of different blocks, as a file.
type plan struct {
	Columns int    `toml:"columns"`
	Rows    int    `toml:"rows"`
	Seam    string `toml:"seam"`
	Block   []struct {
		File  string `toml:"file"`
		Count int    `toml:"count"`
	} `toml:"block"`
}

// planKeys are the keys of a plan, and what belongs to each.
var planKeys = map[string]string{
	"columns": "a whole number", "rows": "a whole number", "seam": `a length in quotes, such as "1/4in"`,
	"block": "[[block]] in double brackets, once for each", "file": "the name of a file in quotes", "count": "a whole number",
}

// planError says what is wrong in a plan in the words of a plan.
func planError(err error) error {
	var unknown *toml.StrictMissingError
	var at *toml.DecodeError
	if errors.As(err, &unknown) && len(unknown.Errors) > 0 {
		at = &unknown.Errors[0]
	} else if !errors.As(err, &at) {
		return settingsfile.AtLine(err)
	}
	line, _ := at.Position()
	names := at.Key()
	if len(names) == 0 {
		return settingsfile.AtLine(err)
	}
	name := names[len(names)-1]
	switch want, known := planKeys[name]; {
	case unknown != nil:
		return fmt.Errorf("%d: there is no key %q for a plan%s", line, name, words.DidYouMean(name, slices.Sorted(maps.Keys(planKeys))))
	case known && strings.Contains(err.Error(), "cannot decode"):
		return fmt.Errorf("%d: %s: expected %s", line, name, want)
	}
	return settingsfile.AtLine(err)
}

const mostPlan = 1 << 20 // bytes of a plan

// readPlan reads a plan; its files lie beside it.
func readPlan(path string) (*plan, []counted, error) {
	text, err := readSmall(path, mostPlan, "a plan")
	if err != nil {
		return nil, nil, fmt.Errorf("plan %s: %w", path, err)
	}
	p := &plan{}
	if err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(p); err != nil {
		return nil, nil, fmt.Errorf("%s:%w", path, planError(err))
	}
	if p.Columns < 0 || p.Rows < 0 || p.Columns > 100 || p.Rows > 100 || (p.Columns > 0) != (p.Rows > 0) {
		return nil, nil, fmt.Errorf("%s: columns and rows: expected both, from 1 to 100, got %d and %d", path, p.Columns, p.Rows)
	}
	if len(p.Block) == 0 {
		return nil, nil, fmt.Errorf("%s: expected at least one [[block]] with a file and a count", path)
	}
	var out []counted
	for i, b := range p.Block {
		if b.File == "" || b.Count < 1 || b.Count > mostBlocks {
			return nil, nil, fmt.Errorf("%s: block %d: expected a file, and a count from 1 to %d, got %q and %d", path, i+1, mostBlocks, b.File, b.Count)
		}
		name := filepath.FromSlash(b.File)
		if !filepath.IsAbs(name) {
			name = filepath.Join(filepath.Dir(path), name)
		}
		out = append(out, counted{name, b.Count})
	}
	return p, out, nil
}
