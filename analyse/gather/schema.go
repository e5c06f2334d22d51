package gather

import (
	_ "embed"
	"slices"
)

//go:embed gather.schema.json
var gatherSchema []byte

// JSONSchema is the JSON Schema (draft 2020-12) of a Document.
func JSONSchema() []byte { return slices.Clone(gatherSchema) }
