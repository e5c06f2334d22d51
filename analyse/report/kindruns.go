package report

import (
	"fmt"
	"strconv"
	"strings"
)

// KindRuns is a kind for each move. As JSON it is text: a letter and a number for so
// many moves of one kind, such as "r12 s400": n none, r run, d double run, t triple
// run, s satin, z open zigzag, f fill, k tie, v travel.
type KindRuns []Kind

const kindLetters = "nrdtszfkv"

// mostKinds bounds the moves that such text may stand for, so that a few letters
// cannot ask for all memory.
const mostKinds = 1 << 26

// MarshalText writes the runs.
func (k KindRuns) MarshalText() ([]byte, error) {
	var out []byte
	for i := 0; i < len(k); {
		from := i
		for i++; i < len(k) && k[i] == k[from]; i++ {
		}
		if int(k[from]) >= len(kindLetters) {
			return nil, fmt.Errorf("move %d: %v", from, k[from])
		}
		if from > 0 {
			out = append(out, ' ')
		}
		out = strconv.AppendInt(append(out, kindLetters[k[from]]), int64(i-from), 10)
	}
	return out, nil
}

// UnmarshalText reads what MarshalText wrote.
func (k *KindRuns) UnmarshalText(text []byte) error {
	*k = nil
	for run := range strings.FieldsSeq(string(text)) {
		kind := strings.IndexByte(kindLetters, run[0])
		n, err := strconv.Atoi(run[1:])
		if kind < 0 || err != nil || n < 1 || n > mostKinds-len(*k) {
			return fmt.Errorf("kinds of stitches: expected a letter of %s and a number, got %q", kindLetters, run)
		}
		for range n {
			*k = append(*k, Kind(kind))
		}
	}
	return nil
}
