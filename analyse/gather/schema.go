package gather

import (
	_ "embed"

	"github.com/stopcard/stopcard/analyse/internal/packed"
)

// gather.schema.json, packed.
//
//go:embed gather.schema.deflate
var gatherSchema []byte

// JSONSchema is the JSON Schema (draft 2020-12) of a Document.
func JSONSchema() []byte { return packed.Text(gatherSchema) }
