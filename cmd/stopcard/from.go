package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
)

// mostNames bounds a list of names, in bytes: some millions of them.
const mostNames = 256 << 20

// listed are the names that --from gives, in order and without empty ones.
func (in *inputFlags) listed(stdin io.Reader, args []string) ([]string, error) {
	if in.from == "" {
		if in.null {
			return nil, errors.New("--null tells how names end in --from, which is not given")
		}
		return nil, nil
	}
	if in.from == "-" {
		if slices.Contains(args, "-") {
			return nil, errors.New("--from - and - both read standard input; give one of them")
		}
	} else {
		f, err := os.Open(in.from)
		if err != nil {
			return nil, fmt.Errorf("--from %s: %w", in.from, errors.Unwrap(err))
		}
		defer f.Close()
		in.opened = append(in.opened, in.from)
		stdin = f
	}
	text, err := io.ReadAll(io.LimitReader(stdin, mostNames+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("--from %s: %w", in.from, err)
	case len(text) > mostNames:
		return nil, fmt.Errorf("--from %s: a list of names may have %d bytes", in.from, mostNames)
	case !in.null && bytes.IndexByte(text, 0) >= 0:
		return nil, fmt.Errorf("--from %s: these names end in NUL characters: add -0", in.from)
	}
	end := byte('\n')
	if in.null {
		end = 0
	}
	var names []string
	for name := range bytes.SplitSeq(text, []byte{end}) {
		if !in.null {
			name = bytes.TrimSuffix(name, []byte("\r"))
		}
		if len(name) > 0 {
			names = append(names, string(name))
		}
	}
	if slices.Contains(names, "-") {
		return nil, fmt.Errorf("--from %s: a name in it is -, and standard input is no file; write ./- for a file of that name", in.from)
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("--from %s: there is no name in it", in.from)
	}
	return names, nil
}
