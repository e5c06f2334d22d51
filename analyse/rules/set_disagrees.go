package rules

import "github.com/stopcard/stopcard/analyse/report"

var setDisagreesRule = Rule{
	ID:       "set-disagrees",
	Doc:      "sizes or formats of one design differ in their stops, roles, stitches or spacing; found by comparing files",
	Severity: report.Fault,
	Bounds:   "any difference in stops and roles; needle points of one size to 0.1 mm; spacing by a fifth",
}
