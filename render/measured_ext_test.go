package render_test

import "github.com/stopcard/stopcard/analyse/analysetest"

// mustRun measures a design, for a context that does not end.
var mustRun = analysetest.Run
