package render

import (
	"bytes"
	"compress/flate"
	"os"
	"testing"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// What is embedded is the Go fonts to the byte.
func TestFontsAreGoFonts(t *testing.T) {
	want := [2][]byte{goregular.TTF, gobold.TTF}
	if *update {
		for i, file := range []string{"fonts/regular.deflate", "fonts/bold.deflate"} {
			var packed bytes.Buffer
			w, err := flate.NewWriter(&packed, flate.BestCompression)
			if err != nil {
				t.Fatal(err)
			}
			w.Write(want[i]) // a Buffer takes everything
			w.Close()
			if err := os.WriteFile(file, packed.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		return
	}
	got, err := fontFiles()
	if err != nil {
		t.Fatal(err)
	}
	for i := range want {
		if !bytes.Equal(got[i], want[i]) {
			t.Errorf("font %d is not that of golang.org/x/image; go test ./render -run TestFonts -update packs it anew", i)
		}
	}
}
