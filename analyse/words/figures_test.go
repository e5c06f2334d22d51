package words

import "testing"

func TestKeepFigures(t *testing.T) {
	for in, want := range map[string]string{
		"":                                       "",
		"and/or 3 4":                             "and/or 3 4",
		"at least 78 x 73 mm (3 1/8 x 2 7/8 in)": "at least 78 x 73 mm (3\u00a01/8 x 2\u00a07/8 in)",
		"12 3/16 in":                             "12\u00a03/16 in",
		"stops 3 1/":                             "stops 3 1/",
		"漢 1/8":                                  "漢 1/8",
		"worst 35 % of 3":                        "worst 35\u00a0% of 3",
		"a % 5 %%":                               "a % 5\u00a0%%",
		"1 /2":                                   "1 /2",
	} {
		if got := KeepFigures(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}
