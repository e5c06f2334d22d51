package resize

import "testing"

// wholeOnly leaves out, under -short, a test that looks at so many designs that it
// would take too long where every step is watched for races.
func wholeOnly(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("left out with -short: it looks at many designs")
	}
}
