package sheet_test

import (
	"strings"
	"testing"

	"fay/joints"
	"fay/joints/fitup"
	"fay/render/rendertest"
	"fay/render/sheet"
)

// TestNoTableIsCut lays out random joints with their tables of legs on every
// sheet: no text of a table ends in an ellipsis, for it might be a size.
func TestNoTableIsCut(t *testing.T) {
	opts := options()
	eachKind(t, 5, 4*count(), func(t *testing.T, i int, sec *joints.Section, in joints.Input) {
		t.Helper()
		o := opts[i%len(opts)]
		job := fullJob(sec)
		kind, _ := joints.LookupKind(in.Kind)
		for _, name := range fitup.Parameters(kind) {
			table, ok, err := fitup.NewTable(in, fitup.Spec{Units: o.Unit, Parameter: name, Openings: fitup.BenchOpenings(0, 0.3, o.Unit)})
			if ok && err == nil {
				job.FitUp = append(job.FitUp, sheet.GapTable{Table: table, Limit: joints.Some(1), Rule: "iso-5817-2014/C/617"})
			}
		}
		sheets, err := sheet.Compose(job, o)
		if err != nil {
			t.Fatal(err)
		}
		for n, d := range sheets {
			for m := range d.Items {
				it := &d.Items[m]
				if it.Text != nil && strings.HasPrefix(it.Role, "table:") && strings.Contains(it.Text.Content, "…") {
					t.Errorf("joint %d sheet %d, %+v: %q in %s", i, n+1, o, it.Text.Content, it.Role)
				}
			}
			for _, v := range rendertest.Lint(d) {
				t.Errorf("joint %d sheet %d, %+v: %v", i, n+1, o, v)
			}
		}
	})
}
