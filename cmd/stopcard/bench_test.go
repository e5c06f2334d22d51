package main

import (
	"fmt"
	"io"
	"testing"

	"github.com/stopcard/stopcard/testdata/demo"
)

// BenchmarkCheck is the whole way of many designs, by how many are read at a
// time.
func BenchmarkCheck(b *testing.B) {
	data, err := demo.Files.ReadFile("kettle-100.pes")
	if err != nil {
		b.Fatal(err)
	}
	dir := b.TempDir()
	for i := range 20 {
		write(b, dir, fmt.Sprintf("%02d.pes", i), data)
	}
	for _, jobs := range []string{"1", "2", "4"} {
		b.Run("jobs="+jobs, func(b *testing.B) {
			for b.Loop() {
				if status := run([]string{"check", "--lines", "--fail-on", "fault", "--jobs", jobs, dir}, &session{stdout: io.Discard, stderr: io.Discard}); status > exitFindings {
					b.Fatal("status", status)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/20, "ms/design")
		})
	}
}
