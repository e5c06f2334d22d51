package report

import (
	_ "embed"

	"github.com/stopcard/stopcard/analyse/internal/packed"
)

// report.schema.json, packed.
//
//go:embed report.schema.deflate
var reportSchema []byte

// JSONSchema is the JSON Schema (draft 2020-12) of a Document. Fields may be
// added to a Document; those it has keep their names, units and meaning as long
// as the number in Schema stays.
func JSONSchema() []byte { return packed.Text(reportSchema) }
