package report

import (
	_ "embed"
	"slices"
)

//go:embed report.schema.json
var reportSchema []byte

// JSONSchema is the JSON Schema (draft 2020-12) of a Document. Fields may be
// added to a Document; those it has keep their names, units and meaning as long
// as the number in Schema stays.
func JSONSchema() []byte { return slices.Clone(reportSchema) }
