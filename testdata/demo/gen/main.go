// Command gen writes the demonstration files into the current directory. It is
// run by go generate in the folder above.
package main

import (
	"log"
	"os"

	"github.com/stopcard/stopcard/testdata/demo/block"
)

func main() {
	files, err := block.Files(block.Formats())
	if err != nil {
		log.Fatal(err)
	}
	for name, data := range files {
		if err := os.WriteFile(name, data, 0o644); err != nil {
			log.Fatal(err)
		}
	}
}
