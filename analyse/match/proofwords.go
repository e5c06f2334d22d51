package match

import (
	"fmt"

	"github.com/stopcard/stopcard/analyse/words"
)

// VerdictWords says in one line whether a pack may be published.
func VerdictWords(p *Proof) string {
	switch {
	case len(p.Designs) == 0 && len(p.Problems) == 0:
		return "There is nothing to publish: no design was read."
	case p.Ready && !p.Complete:
		return "Nothing to mend was found, but not every file was read."
	case p.Ready && len(p.Designs) > 1:
		return fmt.Sprintf("Ready to publish, if it is meant to hold %s: every size of each is there in every format.", words.Count(len(p.Designs), "design"))
	case p.Ready:
		return "Ready to publish: every size is there in every format, and the files are one design."
	}
	return fmt.Sprintf("Not ready to publish: %s to mend.", words.Plural(len(p.Problems), "thing", "things"))
}
