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
	take := func(v uint) {
		held, bits = (held<<7|v)&0x7fff, bits+7
		if bits >= 8 {
			bits -= 8
			out = append(out, byte(held>>bits))
		}
	}
	for _, r := range text {
		if r > 127 {
			take([]uint{0, '\r', '<'}[r>>7-2])
		}
		take(uint(r) & 127)
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
		if n%3 == 0 && n > 0 {
			data[n-1] = 0 // as compressed bytes often end
		}
		text := sevenBits(data)
		if strings.ContainsAny(text, "\x00\r") || strings.Contains(text, "</") || strings.Contains(text, "<!") {
			t.Fatalf("%q would be changed by a reader of HTML", text)
		}
		if most := (8*n+6)/7 + 1; len(text) > most {
			t.Fatalf("%d bytes take %d, more than %d", n, len(text), most)
		}
		got := eightBits(text)
		if len(got) < n || !bytes.Equal(got[:n], data) || len(got) > n {
			t.Fatalf("%d bytes come back as %d", n, len(got))
		}
	}
}
