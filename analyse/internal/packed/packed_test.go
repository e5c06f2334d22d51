package packed

import (
	"strings"
	"testing"
)

func TestTextIsWhatWasPacked(t *testing.T) {
	for _, text := range []string{"", "placement line", strings.Repeat("tack-down, then cover satin\n", 1000)} {
		packed, err := Pack([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if got := string(Text(packed)); got != text {
			t.Errorf("%d bytes packed give %d", len(text), len(got))
		}
		if len(text) > 1000 && len(packed) > len(text)/5 {
			t.Errorf("%d bytes are packed to %d", len(text), len(packed))
		}
	}
}

func TestWhatIsNotPackedGivesNothing(t *testing.T) {
	if got := Text([]byte("{\"schema\"")); got != nil {
		t.Errorf("%q", got)
	}
}
