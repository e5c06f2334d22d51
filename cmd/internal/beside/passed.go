package beside

import (
	"errors"
	"fmt"

	"github.com/stopcard/stopcard/stitchfile"
)

// Passed is what was passed over in a pack: for each reason how many files, and the
// first of them. The zero value is nothing.
type Passed struct {
	reasons []string
	first   map[string]string
	count   map[string]int
}

// Add counts an entry that was passed over.
func (k *Passed) Add(e *stitchfile.Entry) {
	if k.count == nil {
		k.first, k.count = map[string]string{}, map[string]int{}
	}
	if k.count[e.Skipped]++; k.count[e.Skipped] == 1 {
		k.reasons = append(k.reasons, e.Skipped)
		k.first[e.Skipped] = e.Name
	}
}

// Nothing says of a pack without a design that there is none, and what there is
// instead, such as links that may lead to some.
func (k *Passed) Nothing() error {
	text := "there is no stitch file in it"
	for _, why := range k.reasons {
		text += fmt.Sprintf("; %s is %s", k.first[why], why)
		if n := k.count[why]; n > 1 {
			text += fmt.Sprintf("; and %d more like it", n-1)
		}
	}
	return errors.New(text)
}
