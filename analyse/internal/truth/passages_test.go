package truth

import (
	"testing"

	st "github.com/stopcard/stopcard/stitchfile/stitchtest"
)

// The set itself must be sound: a label for each stitch, every kind in it in
// number, and few stitches with a second answer.
func TestPassages(t *testing.T) {
	designs := Passages()
	count := map[st.Label]int{}
	also, stitches := 0, 0
	for _, d := range designs {
		n := d.Design.Counts().Stitches
		if len(d.Labels) != n || len(d.Also) != n {
			t.Errorf("%s: %d labels, %d second answers for %d stitches", d.Name, len(d.Labels), len(d.Also), n)
		}
		for i, l := range d.Labels {
			count[l]++
			if d.Also[i] != st.Unlabelled {
				also++
			}
		}
		stitches += n
	}
	if len(designs) < 90 {
		t.Errorf("%d designs", len(designs))
	}
	for l := st.Run; l <= st.Travel; l++ {
		if count[l] < 300 {
			t.Errorf("%d stitches of label %d", count[l], l)
		}
	}
	if 50*also > stitches {
		t.Errorf("%d of %d stitches have a second answer", also, stitches)
	}
}
