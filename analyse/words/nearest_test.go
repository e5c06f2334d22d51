package words

import "testing"

func TestDidYouMean(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"nmber", "; did you mean number?"},
		{"numbers", "; did you mean number?"},
		{"tread", "; did you mean thread?"},
		{"colour", ""},
		{"", ""},
	} {
		if got := DidYouMean(c.text, []string{"number", "thread", "note"}); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

func TestOr(t *testing.T) {
	for _, c := range []struct {
		list []string
		want string
	}{{nil, ""}, {[]string{"a"}, "a"}, {[]string{"a", "b"}, "a or b"}, {[]string{"a", "b", "c"}, "a, b or c"}} {
		if got := Or(c.list); got != c.want {
			t.Errorf("%q: %q", c.list, got)
		}
	}
}
