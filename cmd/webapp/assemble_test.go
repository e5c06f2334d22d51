package main

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"
)

// eightBits reads what sevenBits wrote, as the page's script does.
func eightBits(text string) []byte {
	var out []byte
	var held, bits uint
	for _, r := range text {
		for b, stand := range standIns {
			if r == stand {
				r = rune(b)
			}
		}
		held, bits = (held<<7|uint(r))&0x7fff, bits+7
		if bits >= 8 {
			bits -= 8
			out = append(out, byte(held>>bits))
		}
	}
	return out
}

func TestSevenBits(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	for n := range 300 {
		data := make([]byte, n)
		for i := range data {
			data[i] = byte(rnd.UintN(256))
		}
		text := sevenBits(data)
		if strings.ContainsAny(text, "\x00\r") || strings.Contains(text, "</") || strings.Contains(text, "<!") {
			t.Fatalf("%q would be changed by a reader of HTML", text)
		}
		got := eightBits(text)
		if len(got) < n || !bytes.Equal(got[:n], data) || len(got) > n {
			t.Fatalf("%d bytes come back as %d", n, len(got))
		}
	}
}
