package resize

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stopcard/stopcard/analyse"
	"github.com/stopcard/stopcard/analyse/internal/truth"
	"github.com/stopcard/stopcard/analyse/report"
)

// What a report was made with serves as well as a new measuring, and the report is left
// as it is; what was measured at another size does not serve.
func TestLimitsGoOnFromAMeasuring(t *testing.T) {
	rec := mustRecognise(truth.Demo(t, "snail-130.dst"))
	s := report.DefaultSettings()
	pass := func(scale float64) (r *report.Resize, before, after []byte, err error) {
		p, err := analyse.MeasurePass(context.Background(), rec, analyse.Options{Settings: &s}, scale)
		if err != nil {
			t.Fatal(err)
		}
		before, _ = report.EncodeJSON(p.Report, "", " ")
		r, err = Limits(context.Background(), p)
		after, _ = report.EncodeJSON(p.Report, "", " ")
		return r, before, after, err
	}
	got, before, after, err := pass(1)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(mustLimit(rec, s), got); diff != "" {
		t.Errorf("of a new measuring (-) and of one that is there (+):\n%s", diff)
	}
	if diff := cmp.Diff(string(before), string(after)); diff != "" {
		t.Errorf("the report changed:\n%s", diff)
	}
	if r, _, _, err := pass(1.2); r != nil || err == nil {
		t.Errorf("limits from 120 %%: %v and no error", r)
	}
}
