package match

import (
	_ "embed"

	"github.com/stopcard/stopcard/analyse/internal/packed"
)

// match.schema.json and proof.schema.json, packed.
//
//go:embed match.schema.deflate
var matchSchema []byte

//go:embed proof.schema.deflate
var proofSchema []byte

// JSONSchema is the JSON Schema (draft 2020-12) of a Matching.
func JSONSchema() []byte { return packed.Text(matchSchema) }

// ProofJSONSchema is the JSON Schema (draft 2020-12) of a Proof.
func ProofJSONSchema() []byte { return packed.Text(proofSchema) }
