package gather_test

import (
	"testing"

	"github.com/stopcard/stopcard/analyse/gather"
	"github.com/stopcard/stopcard/analyse/internal/schema"
)

// The schema file is what the types and their comments say.
func TestSchemaIsOfTypes(t *testing.T) {
	schema.Hold[gather.Document](t, "gather.schema.json", gather.Schema, "Stopcard gathering", ".", "../report")
}
