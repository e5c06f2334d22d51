module github.com/stopcard/stopcard

go 1.26.8

require (
	github.com/google/go-cmp v0.7.0
	github.com/paulmach/orb v0.14.0
	github.com/spf13/pflag v1.1.0
	golang.org/x/image v0.47.0
	golang.org/x/text v0.43.0
	gonum.org/v1/gonum v0.17.0
)

require golang.org/x/sys v0.49.0 // indirect
