package match_test

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/internal/schema"
	"github.com/stopcard/stopcard/analyse/match"
)

// The schema files are what the types and their comments say.
func TestSchemasAreOfTypes(t *testing.T) {
	schema.Hold[match.Matching](t, "match.schema.json", match.Schema, "Stopcard matching", ".", "../report", "../measure")
	schema.Hold[match.Proof](t, "proof.schema.json", match.ProofSchema, "Stopcard proof", ".", "../report")
}
