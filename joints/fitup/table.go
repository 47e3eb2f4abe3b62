package fitup

import (
	"math"

	"fay/geometry"
	"fay/joints"
)

// Parameters that a fitter closes or opens, in the order they are looked for.
var openings = []string{"gap", "root-opening"}

// Row is one line of the fit-up table.
type Row struct {
	Opening geometry.Length // gap or root opening
	Nominal bool            // the opening that was planned
	// Welds has an entry for each weld of the joint.
	Welds []WeldRow
	// ExtraArea is the deposit, in mm², over that of the plan when every
	// weld is laid as WeldRow says.
	ExtraArea float64
}

// WeldRow is what an opening means for one weld.
type WeldRow struct {
	Weld string
	// Throat is the effective throat when the planned size is laid.
	Throat geometry.Length
	// Legs keep the planned effective throat; absent for grooves and where no
	// leg does.
	Legs [2]joints.Opt
	// Impossible says why no leg keeps the throat, e.g. the edge it would pass.
	Impossible string
}

// Table is what openings from zero to the end of the rule do to a joint.
type Table struct {
	Parameter string          // "gap" or "root-opening"
	Planned   geometry.Length // nominal opening
	End       geometry.Length // of the range that the program takes
	Rows      []Row
}

// NewTable builds the table of a joint with openings in the given step; a step
// of zero takes 0.5 mm. The bool is false for a joint without an opening.
func NewTable(in joints.Input, step geometry.Length) (Table, bool, error) {
	plan, err := joints.Build(in)
	if err != nil {
		return Table{}, false, err
	}
	kind, _ := joints.LookupKind(in.Kind)
	for _, name := range openings {
		p, ok := kind.Param(name)
		if !ok {
			continue
		}
		if step <= 0 {
			step = 0.5
		}
		planned := geometry.Length(in.Values[name].Number)
		end := geometry.Length(p.Limits.Max)
		if name == "root-opening" {
			// No rule on file ends a root opening: three millimetres over the
			// plan is as far as a fitter is asked to look.
			end = planned + 3
		}
		t := Table{Parameter: name, Planned: planned, End: end}
		for _, g := range openingsUpTo(planned, end, step) {
			if row, ok := newRow(in, &plan, name, g); ok {
				row.Nominal = g == planned
				t.Rows = append(t.Rows, row)
			}
		}
		return t, true, nil
	}
	return Table{}, false, nil
}

// openingsUpTo lists the openings of a table: the steps, and the plan itself
// in its place.
func openingsUpTo(planned, end, step geometry.Length) []geometry.Length {
	var out []geometry.Length
	done := false
	for i := 0; ; i++ {
		g := geometry.Length(i) * step
		if g > end+1e-9 {
			break
		}
		if !done && planned <= g+1e-9 {
			done = true
			if math.Abs(float64(planned-g)) > 1e-9 {
				out = append(out, planned)
			} else {
				g = planned
			}
		}
		out = append(out, g)
	}
	return out
}

// newRow builds one row; the bool is false where the joint cannot be built at
// this opening at all.
func newRow(in joints.Input, plan *joints.Section, name string, g geometry.Length) (Row, bool) {
	row := Row{Opening: g}
	laid := with(in, name, float64(g))
	area := 0.0
	for i := range plan.Welds {
		w := &plan.Welds[i]
		wr := WeldRow{Weld: w.ID}
		at, err := joints.Build(pinned(laid, plan))
		if err == nil {
			got, _ := at.Weld(w.ID)
			wr.Throat = got.EffectiveThroat
		}
		if w.Kind == joints.FilletWeld && w.Feet[0].Leg > 0 {
			legs, built, why := keep(laid, plan, w)
			wr.Impossible = why
			if why == "" {
				wr.Legs = [2]joints.Opt{joints.Some(legs[0]), joints.Some(legs[1])}
				area += built
			}
		} else if err == nil {
			got, _ := at.Weld(w.ID)
			area += got.DepositedArea
		}
		row.Welds = append(row.Welds, wr)
		if err != nil && wr.Impossible != "" && wr.Throat == 0 && len(plan.Welds) == 1 && g > 0 {
			// Neither the plan nor a larger weld bridges this gap.
			row.ExtraArea = math.NaN()
		}
	}
	if math.IsNaN(row.ExtraArea) {
		row.ExtraArea = 0
	} else {
		row.ExtraArea = area - plan.DepositedArea()
	}
	return row, true
}

// keep finds the legs that keep a fillet's planned effective throat at the
// opening in the input: both legs grow by the same amount. It returns the
// deposit with them, or why there are none.
func keep(in joints.Input, plan *joints.Section, w *joints.Weld) ([2]geometry.Length, float64, string) {
	base := pinned(in, plan)
	try := func(grow float64) (joints.Section, error) {
		return joints.Build(withLegs(base, w.ID, float64(w.Feet[0].Leg)+grow, float64(w.Feet[1].Leg)+grow))
	}
	short := func(grow float64) float64 {
		s, err := try(grow)
		if err != nil {
			return math.Inf(-1)
		}
		got, _ := s.Weld(w.ID)
		return float64(got.EffectiveThroat - w.EffectiveThroat)
	}
	// The throat grows with the legs; a leg cannot shrink to nothing.
	lo := -0.95 * math.Min(float64(w.Feet[0].Leg), float64(w.Feet[1].Leg))
	hi := 1.0
	for short(hi) < 0 {
		if _, err := try(hi); err != nil && hi > 1 {
			return bounded(try, short, hi)
		}
		if hi *= 2; hi > 64 {
			return [2]geometry.Length{}, 0, "no leg keeps the throat at this gap"
		}
	}
	return settle(w, try, short, lo, hi)
}

// bounded looks for the legs between the last that could be built and hi,
// which could not.
func bounded(try func(float64) (joints.Section, error), short func(float64) float64, hi float64) ([2]geometry.Length, float64, string) {
	lo := 0.0
	for range 60 {
		mid := (lo + hi) / 2
		if _, err := try(mid); err != nil {
			hi = mid
		} else {
			lo = mid
		}
	}
	if short(lo) >= 0 {
		s, _ := try(lo)
		for i := range s.Welds {
			if s.Welds[i].Kind == joints.FilletWeld {
				return [2]geometry.Length{s.Welds[i].Feet[0].Leg, s.Welds[i].Feet[1].Leg}, s.Welds[i].DepositedArea, ""
			}
		}
	}
	_, err := try(hi)
	why := "no leg keeps the throat at this gap"
	if fs := joints.AsFaults(err); len(fs) > 0 {
		why = fs[0].Rule
	}
	return [2]geometry.Length{}, 0, why
}

// settle closes in on the legs between lo, too short, and hi, enough.
func settle(w *joints.Weld, try func(float64) (joints.Section, error), short func(float64) float64, lo, hi float64) ([2]geometry.Length, float64, string) {
	for range 60 {
		mid := (lo + hi) / 2
		if short(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	s, err := try(hi)
	if err != nil {
		return [2]geometry.Length{}, 0, "no leg keeps the throat at this gap"
	}
	got, _ := s.Weld(w.ID)
	return [2]geometry.Length{got.Feet[0].Leg, got.Feet[1].Leg}, got.DepositedArea, ""
}

// with returns the input with one value of the joint changed.
func with(in joints.Input, name string, v float64) joints.Input {
	values := make(map[string]joints.Value, len(in.Values)+1)
	for k, old := range in.Values {
		values[k] = old
	}
	values[name] = joints.Value{Text: "given", Number: v}
	in.Values = values
	return in
}

// pinned returns the input with every fillet's size given as the legs of the
// plan: a fillet asked for by throat would follow the opening by itself.
func pinned(in joints.Input, plan *joints.Section) joints.Input {
	for i := range plan.Welds {
		w := &plan.Welds[i]
		if w.Kind == joints.FilletWeld && w.Feet[0].Leg > 0 {
			in = withLegs(in, w.ID, float64(w.Feet[0].Leg), float64(w.Feet[1].Leg))
		}
	}
	return in
}

func withLegs(in joints.Input, id string, a, b float64) joints.Input {
	welds := make(map[string]map[string]joints.Value, len(in.Welds))
	for k, old := range in.Welds {
		welds[k] = old
	}
	values := make(map[string]joints.Value, len(welds[id])+1)
	for k, old := range welds[id] {
		if k != "throat" && k != "gauge-leg" {
			values[k] = old
		}
	}
	values["leg"] = joints.Value{Text: "given", Number: a, List: []float64{a, b}}
	welds[id] = values
	in.Welds = welds
	return in
}
