package fitup

import (
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// Parameters that a fitter closes or opens, in the order they are looked for.
var openings = []string{"gap", "root-opening"}

// Where a table ends, and why.
const (
	gapEnd = "widest fillet gap that a rule on file deals with: 5 mm (3/16 in), AWS D1.1 assembly clause as reported, secondary source"
	// A root opening of a few millimetres over the plan is as far as a fitter
	// is asked to look: common practice, no source.
	rootEnd       = "no rule on file ends a root opening; the table goes 3 mm (1/8 in) over the plan"
	gapEndInch    = geometry.Inch * 3 / 16
	overPlan      = geometry.Length(3)
	overPlanInch  = geometry.Inch / 8
	defaultStep   = geometry.Length(0.5)
	defaultStepIn = geometry.Inch / 32
	defaultGrid   = geometry.Length(0.5)
	defaultGridIn = geometry.Inch / 16
	leastStep     = geometry.Length(0.05) // finer than a gap can be set
	sameOpening   = 1e-9
)

// Spec are the choices of a table. The zero value is a table in millimetres
// that keeps the effective throats of the plan.
type Spec struct {
	// Units picks the usual steps: half millimetres, or in inches openings by
	// 1/32 and legs by 1/16.
	Units geometry.Unit
	// Step of the openings and Grid that legs are rounded up to; zero takes
	// the usual ones.
	Step, Grid geometry.Length
	// Parameter is the opening that the table varies, one of [Parameters], and
	// limits it to the welds at that opening; empty takes the first one of the
	// joint, and all welds.
	Parameter string
	// Openings takes the place of the steps; the plan is put among them.
	Openings []geometry.Length
	// Weld limits the table to one weld; empty takes all.
	Weld string
	// Throat is the effective throat to keep; zero keeps those of the plan.
	Throat geometry.Length
}

// Row is one line of the fit-up table.
type Row struct {
	Opening geometry.Length // gap or root opening
	Nominal bool            // the opening that was planned
	// Welds has an entry for each weld of the table.
	Welds []WeldRow
	// Complete is set where every weld can be laid. Only then ExtraArea and
	// LaidArea say how much more is deposited than planned, in mm²: with the
	// exact legs, and with those rounded up.
	Complete            bool
	ExtraArea, LaidArea float64
}

// WeldRow is what an opening means for one weld.
type WeldRow struct {
	Weld string
	// Throat is the effective throat when the planned size is laid; absent
	// where that size makes no weld.
	Throat joints.Opt
	// Legs keep the throat asked for, and Lay are those rounded up for the
	// hand; both are absent for welds without legs and where no leg does.
	Legs, Lay [2]joints.Opt
	// WholeEdge is set for a leg to lay that the member's edge has cut short
	// of its rounding: the whole edge is melted.
	WholeEdge [2]bool
	// Impossible says why no leg keeps the throat, e.g. the edge it would pass.
	Impossible string
}

// Table is what openings from zero to the end of the rule do to a joint.
type Table struct {
	Parameter string          // "gap" or "root-opening"
	Planned   geometry.Length // nominal opening
	End       geometry.Length // last opening
	EndSource string          // why it is the last
	Grid      geometry.Length // that legs to lay are rounded up to
	// Throats are the effective throats kept, one for each weld.
	Throats []Throat
	Rows    []Row

	benches map[string]*bench
}

// Throat is the effective throat that a table keeps for a weld.
type Throat struct {
	Weld          string
	Planned, Kept geometry.Length
	// Legs says that the weld is kept by its legs; others are merely followed.
	Legs bool
}

// NewTable builds the table of a joint. The bool is false for a joint without
// an opening. The error, if any, is of type [joints.Faults].
func NewTable(in joints.Input, spec Spec) (*Table, bool, error) {
	plan, err := joints.BuildBrief(in)
	if err != nil {
		return nil, false, err
	}
	kind, _ := joints.LookupKind(in.Kind)
	names := openings
	if spec.Parameter != "" {
		names = []string{spec.Parameter}
	}
	for _, name := range names {
		p, ok := kind.Param(name)
		if !ok {
			continue
		}
		t := &Table{Parameter: name, Planned: length(in.Values[name].Number), benches: map[string]*bench{}}
		spec.settle(t, p)
		welds, err := spec.check(kind, t, plan.Welds)
		if err != nil {
			return nil, false, err
		}
		for _, w := range welds {
			kept := w.EffectiveThroat
			if spec.Throat > 0 && hasLegs(w) {
				kept = spec.Throat
			}
			t.benches[w.ID] = benchFor(in, plan.Welds, w)
			t.Throats = append(t.Throats, Throat{Weld: w.ID, Planned: w.EffectiveThroat, Kept: kept, Legs: hasLegs(w)})
		}
		list := openingsUpTo(t.Planned, t.End, spec.Step)
		if spec.Openings != nil {
			list = among(spec.Openings, t.Planned)
		}
		for _, g := range list {
			row := t.row(welds, g)
			row.Nominal = g == t.Planned
			t.Rows = append(t.Rows, row)
		}
		return t, true, nil
	}
	return nil, false, nil
}

// settle fills in what the spec leaves open and the end of the table.
func (s *Spec) settle(t *Table, p *joints.Param) {
	inches := s.Units == geometry.UnitInch
	pick := func(v *geometry.Length, mm, inch geometry.Length) {
		if *v == 0 {
			*v = mm
			if inches {
				*v = inch
			}
		}
	}
	pick(&s.Step, defaultStep, defaultStepIn)
	pick(&s.Grid, defaultGrid, defaultGridIn)
	t.Grid = s.Grid
	most := length(p.Limits.Max)
	if strings.HasSuffix(t.Parameter, "gap") {
		pick(&t.End, most, min(most, gapEndInch))
		t.EndSource = gapEnd
	} else {
		pick(&t.End, overPlan, overPlanInch)
		t.End = min(t.Planned+t.End, most)
		t.EndSource = rootEnd
	}
	t.End = max(t.End, t.Planned)
}

// check reports everything wrong with the spec, and picks the welds.
func (s *Spec) check(kind *joints.Kind, t *Table, all []joints.Weld) ([]*joints.Weld, error) {
	var faults joints.Faults
	between := func(field string, v, least, most geometry.Length) {
		if !(v >= least && v <= most*(1+1e-9)) {
			faults = append(faults, joints.Fault{Code: joints.FaultRange, Field: field, Value: show(v),
				Rule: "must lie between " + show(least) + " and " + show(most), Remedy: "leave it out for the usual one"})
		}
	}
	between("step", s.Step, leastStep, max(t.End, leastStep))
	between("grid", s.Grid, leastStep, 10)
	if s.Throat != 0 {
		between("throat", s.Throat, length(joints.LegRange.Min), length(joints.LegRange.Max))
	}
	welds := make([]*joints.Weld, 0, len(all))
	for i := range all {
		if (s.Weld == "" || all[i].ID == s.Weld) && (s.Parameter == "" || at(kind, s.Parameter, all[i].ID)) {
			welds = append(welds, &all[i])
		}
	}
	if len(welds) == 0 {
		faults = append(faults, joints.AsFaults(unknownWeld(s.Weld, all))...)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return welds, nil
}

// openingsUpTo lists the openings of a table: the steps, the plan itself in
// its place, and the end.
func openingsUpTo(planned, end, step geometry.Length) []geometry.Length {
	var out []geometry.Length
	add := func(g geometry.Length) {
		if n := len(out); n > 0 && math.Abs(float64(g-out[n-1])) <= sameOpening {
			if g == planned {
				out[n-1] = g
			}
			return
		}
		out = append(out, g)
	}
	done := false
	for i := 0; ; i++ {
		g := length(float64(i)) * step
		if !done && (planned <= g+sameOpening || g > end) {
			done = true
			add(planned)
			if math.Abs(float64(g-planned)) <= sameOpening {
				continue
			}
		}
		if g > end-sameOpening {
			break
		}
		add(g)
	}
	add(end)
	return out
}

// row builds one row.
func (t *Table) row(welds []*joints.Weld, g geometry.Length) Row {
	row := Row{Opening: g, Complete: true}
	for i, w := range welds {
		b := t.benches[w.ID]
		b.open(t.Parameter, g, t.Planned)
		wr := WeldRow{Weld: w.ID}
		var at *joints.Weld
		got, err := b.weld(w.ID)
		if err == nil {
			at, wr.Throat = &got, joints.Some(got.EffectiveThroat)
		}
		switch {
		case hasLegs(w):
			k := keep(b, w, at, t.Throats[i].Kept, g-t.Planned)
			wr.Impossible = k.impossible
			if k.impossible != "" {
				row.Complete = false
				break
			}
			row.ExtraArea += k.weld.DepositedArea - w.DepositedArea
			row.LaidArea += t.laid(b, w, &k, &wr, t.Throats[i].Kept) - w.DepositedArea
		case err != nil:
			wr.Impossible, row.Complete = ruleOf(err), false
		default:
			row.ExtraArea += at.DepositedArea - w.DepositedArea
			row.LaidArea += at.DepositedArea - w.DepositedArea
		}
		row.Welds = append(row.Welds, wr)
	}
	if !row.Complete {
		row.ExtraArea, row.LaidArea = 0, 0
	}
	return row
}

// laid settles the legs to lay and returns their deposit.
func (t *Table) laid(b *bench, w *joints.Weld, k *kept, wr *WeldRow, throat geometry.Length) float64 {
	legs, whole := lay(k, w, t.Grid)
	got := k.weld
	if legs != k.legs {
		b.setLegs(w.ID, float64(legs[0]), float64(legs[1]))
		laid, err := b.weld(w.ID)
		b.setLegs(w.ID, float64(w.Feet[0].Leg), float64(w.Feet[1].Leg))
		if got = laid; err != nil || got.EffectiveThroat < throat-enough {
			// The rounded legs do not go together; the exact ones do.
			legs, whole, got = k.legs, [2]bool{}, k.weld
		}
	}
	for i := range legs {
		wr.Legs[i], wr.Lay[i] = joints.Some(k.legs[i]), joints.Some(legs[i])
	}
	wr.WholeEdge = whole
	return got.DepositedArea
}

// ThroatAt is the effective throat of a weld of the table when its planned size
// is laid at an opening; absent where that makes no weld.
func (t *Table) ThroatAt(weld string, opening geometry.Length) joints.Opt {
	b, ok := t.benches[weld]
	if !ok {
		return joints.Opt{}
	}
	b.open(t.Parameter, opening, t.Planned)
	w, err := b.weld(weld)
	if err != nil {
		return joints.Opt{}
	}
	return joints.Some(w.EffectiveThroat)
}
