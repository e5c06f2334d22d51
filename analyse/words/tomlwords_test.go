package words

import (
	"testing"

	"github.com/pelletier/go-toml/v2"
)

func TestTOMLWords(t *testing.T) {
	for text, want := range map[string]string{
		"a = 1e700":                "this number is too large",
		"a = 99999999999999999999": "this number is too large",
		"a = 0xFFFFFFFFFFFFFFFFFF": "this number is too large",
		"a":                        "expected '=' after key",
	} {
		var v map[string]any
		err := toml.Unmarshal([]byte(text), &v)
		if err == nil {
			t.Errorf("%q is read", text)
		} else if got := TOMLWords(err); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func TestTOMLValue(t *testing.T) {
	for _, c := range []struct {
		v    any
		want string
	}{{"pine", "pine"}, {int64(3), "3"}, {1.5, "1.5"}, {true, "true"}, {[]any{1, 2}, "[...]"}, {map[string]any{"a": 1}, "{...}"}} {
		if got := TOMLValue(c.v); got != c.want {
			t.Errorf("%v: %q, want %q", c.v, got, c.want)
		}
	}
}
