package render

import "github.com/stopcard/stopcard/analyse/analysetest"

// These measure and recognise a design, for a context that does not end.
var (
	mustRun       = analysetest.Run
	mustRecognise = analysetest.Recognise
)
