package render

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/match"
)

func TestMovedWords(t *testing.T) {
	for _, c := range []struct {
		moved []match.Moved
		want  string
	}{
		{[]match.Moved{{Stop: 3, Added: true}}, "1 needle point is only here, in stop 3"},
		{[]match.Moved{{Stop: 3}, {Stop: 3}}, "2 needle points are only in the other files of its size, in stop 3"},
		{[]match.Moved{{Stop: 8, Added: true}, {Stop: 3}, {Stop: 3}}, "1 needle point is only here, 2 needle points are only in the other files of its size; in stops 3 and 8"},
	} {
		if got := movedWords(c.moved); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
