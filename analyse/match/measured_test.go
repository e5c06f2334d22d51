package match

import (
	"context"

	"github.com/stopcard/stopcard/analyse/analysetest"
)

// These measure and recognise a design, for a context that does not end.
var (
	mustRun       = analysetest.Run
	mustRecognise = analysetest.Recognise
)

// mustMatch is Match of a context that does not end.
func mustMatch(signs []*Signature) *Matching {
	m, err := Match(context.Background(), signs)
	if err != nil {
		panic(err)
	}
	return m
}
