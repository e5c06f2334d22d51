package words

import "testing"

func TestThreadName(t *testing.T) {
	for _, c := range []struct{ name, maker, want string }{
		{"slate blue", "", "slate blue"},
		{" slate blue ", "Any Maker", "slate blue"},
		{"Any Maker slate blue", "any maker", "slate blue"},
		{"Any Maker", "Any Maker", "Any Maker"}, // or nothing would be left
		{"56", "", ""},
		{"#f8d13b", "", ""},
		{"No. 56b", "", "No. 56b"},
		{"", "x", ""},
	} {
		if got := ThreadName(c.name, c.maker); got != c.want {
			t.Errorf("%q of %q: %q, want %q", c.name, c.maker, got, c.want)
		}
	}
}

func TestThreadNumber(t *testing.T) {
	for _, c := range []struct {
		number string
		index  int
		want   string
	}{
		{"1147", 0, "1147"}, {" 1147 ", 20, "1147"}, {"B-204", 0, "B-204"},
		{"", 0, ""}, {"0", 0, ""}, {"0000", 3, ""}, {"20", 20, ""}, {"20", 21, "20"},
		{"catalognumber", 0, ""}, {"#0000ff", 0, ""}, {"#123456", 0, ""},
	} {
		if got := ThreadNumber(c.number, c.index); got != c.want {
			t.Errorf("%q at %d: %q, want %q", c.number, c.index, got, c.want)
		}
	}
}
