package match

import (
	_ "embed"
	"slices"
)

//go:embed match.schema.json
var matchSchema []byte

//go:embed proof.schema.json
var proofSchema []byte

// JSONSchema is the JSON Schema (draft 2020-12) of a Matching.
func JSONSchema() []byte { return slices.Clone(matchSchema) }

// ProofJSONSchema is the JSON Schema (draft 2020-12) of a Proof.
func ProofJSONSchema() []byte { return slices.Clone(proofSchema) }
