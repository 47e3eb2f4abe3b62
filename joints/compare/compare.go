package compare

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/preparation"
	"fay/joints/filler"
	"fay/joints/heat"
)

// Option is an alternative as it comes in.
type Option struct {
	Name string
	Note string // where it is from, such as a row of a table
	// Section is nil where the joint cannot be made; Fault then says why.
	Section  *joints.Section
	Fault    string
	Filler   *filler.Filler  // nil: not computed
	Findings []check.Finding // nil: not checked
	// RootArc is the arc power, W, that melts the root of the weld that asks for
	// most; nil where it is not known, and NoRootArc then says why.
	RootArc   *heat.Spread
	NoRootArc string
	// RootArcFromMemory: a constant behind that power is remembered.
	RootArcFromMemory bool
	// Suitable are the preparations on file for its plate, to which a full
	// weld's root face is held; nil: not looked up.
	Suitable []preparation.Preparation
}

// Constraints are what an alternative must keep to; zero asks for nothing.
type Constraints struct {
	OneSide       bool           // no weld on the other side
	NoBackGouging bool           // no second side that must be cut back to sound metal
	TorchAngle    geometry.Angle // least room for the torch at the root
	EdgeAllowance geometry.Length
	MostKgPerM    float64 // consumed
	AllMet        bool    // no finding not met
	// LeastThroat is the least effective throat of the joint, both sides
	// together.
	LeastThroat geometry.Length
	// MostRootFace is the most edge that a full weld may leave unprepared at the
	// root, to be melted through: its root face, or all of a square edge.
	MostRootFace geometry.Length
}

// Request is what to compare.
type Request struct {
	Options []Option
	// Reference names the option the others are compared with; the first when
	// empty.
	Reference   string
	By          Metric
	Constraints Constraints
}

// Row is an alternative compared. Rank counts from 1 and is shared by those that
// come to the same; 0 is out of the ranking. What meets all checks ranks before
// what does not, and a cost that is whole before one that lacks a price.
type Row struct {
	Name string `json:"name"`
	Note string `json:"note,omitempty"`
	Rank int    `json:"rank,omitempty"`
	// Best are the first of those that meet all checks, where what they are
	// ranked by is known and whole.
	Best bool `json:"best"`
	// MeetsChecks is absent where nothing was checked.
	MeetsChecks *bool `json:"meets_checks,omitempty"`
	// Excluded says what keeps it out: constraints it breaks, or why it cannot
	// be made.
	Excluded []string `json:"excluded"`
	Values   *Values  `json:"values,omitempty"`   // absent where it cannot be made
	Relative *Values  `json:"relative,omitempty"` // fractions over the reference
	NotMet   []string `json:"not_met"`            // ids of rules
	// Throats are the effective throats of the welds, which Values add up.
	Throats     []WeldThroat `json:"effective_throats,omitzero"`
	Penetration Penetration  `json:"penetration,omitempty"` // of groove welds
	// RootFaceMM is the edge that a full weld leaves unprepared at the root.
	RootFaceMM float64 `json:"root_face_mm,omitempty"`
	// NotOnFile: the weld is full, and no range on file for the plate has so high
	// a root face; they end at MostRootFaceMM.
	NotOnFile      bool    `json:"root_face_not_on_file,omitempty"`
	MostRootFaceMM float64 `json:"most_root_face_on_file_mm,omitempty"`
	// CostLines are what the cost holds, NotPriced what it lacks: a cost that
	// lacks something is compared with none that lacks something else.
	CostLines []filler.CostLine `json:"cost_lines,omitzero"`
	NotPriced []string          `json:"not_priced,omitzero"`
	// Taken are the numbers behind mass, time and gas, FromMemory the metrics
	// that hang on one that is remembered.
	Taken      []filler.Taken `json:"taken,omitzero"`
	FromMemory []Metric       `json:"from_memory,omitzero"`
	// NoHeat says why the heat is not available; empty where it is, or where
	// the joint cannot be made.
	NoHeat string `json:"heat_not_available,omitempty"`

	Section *joints.Section `json:"-"`
}

// Comparison is a ranked table: within the constraints by rank, those that meet
// all checks first, then the others in the order given.
type Comparison struct {
	By        Metric `json:"by"`
	Reference string `json:"reference"`
	Currency  string `json:"currency,omitempty"`
	Rows      []Row  `json:"rows"`
	Rules     []Rule `json:"rules"`
}

// MostOptions bounds a comparison.
const MostOptions = 200

// New compares. The error, if any, is of type joints.Faults.
func New(r Request) (Comparison, error) {
	if faults := r.faults(); len(faults) > 0 {
		return Comparison{}, faults
	}
	rows := make([]Row, len(r.Options))
	var reference *Row
	out := Comparison{By: r.By, Reference: r.Reference, Rules: Rules()}
	if out.Reference == "" {
		out.Reference = r.Options[0].Name
	}
	for i := range r.Options {
		o := &r.Options[i]
		rows[i] = r.row(o)
		if o.Name == out.Reference {
			reference = new(rows[i])
		}
		if o.Filler != nil && o.Filler.Cost != nil {
			out.Currency = o.Filler.Cost.Currency
		}
	}
	for i := range rows {
		if rows[i].Values != nil {
			rows[i].Relative = new(rows[i].Values.relative(reference.Values))
			if !slices.Equal(rows[i].NotPriced, reference.NotPriced) {
				rows[i].Relative.Cost = nil
			}
		}
	}
	slices.SortStableFunc(rows, func(a, b Row) int { return order(&a, &b, r.By) })
	for i := range rows {
		row := &rows[i]
		if len(row.Excluded) > 0 {
			continue
		}
		row.Rank = i + 1
		if i > 0 && tied(&rows[i-1], row, r.By) {
			row.Rank = rows[i-1].Rank
		}
		row.Best = row.Rank == 1 && len(row.NotMet) == 0 && row.Values.Of(r.By) != nil && !row.incomplete(r.By)
	}
	out.Rows = rows
	return out, nil
}

// order sorts what is in before what is out, then what meets all checks before
// what does not, then by the metric, then by the deposited area; what cannot be
// told comes after what can.
func order(a, b *Row, by Metric) int {
	if out, its := len(a.Excluded) > 0, len(b.Excluded) > 0; out || its {
		switch {
		case out && its:
			return 0
		case out:
			return 1
		}
		return -1
	}
	if open, its := len(a.NotMet) > 0, len(b.NotMet) > 0; open != its {
		if open {
			return 1
		}
		return -1
	}
	if open, its := a.incomplete(by), b.incomplete(by); open != its {
		if open {
			return 1
		}
		return -1
	}
	first, second := a.Values.Of(by), b.Values.Of(by)
	if by == Throat && first != nil && second != nil {
		first, second = second, first // more is better
	}
	if c := less(first, second); c != 0 {
		return c
	}
	return less(a.Values.Area, b.Values.Area)
}

// incomplete reports whether a row is ranked by a cost that lacks a price.
func (r *Row) incomplete(by Metric) bool { return by == Cost && len(r.NotPriced) > 0 }

// tied reports whether two rows that follow each other come to the same.
func tied(a, b *Row, by Metric) bool {
	const rounding = 1e-9
	if (len(a.NotMet) > 0) != (len(b.NotMet) > 0) || a.incomplete(by) != b.incomplete(by) {
		return false
	}
	x, y := a.Values.Of(by), b.Values.Of(by)
	if x == nil || y == nil {
		return x == nil && y == nil
	}
	return math.Abs(*x-*y) <= rounding*math.Max(math.Abs(*x), math.Abs(*y))
}

func less(a, b *float64) int {
	switch {
	case a == nil && b == nil:
		return 0
	case b == nil:
		return -1
	case a == nil, *a > *b:
		return 1
	case *a < *b:
		return -1
	}
	return 0
}

func (r *Request) faults() joints.Faults {
	var out joints.Faults
	add := func(code joints.FaultCode, field, value, rule, remedy string) {
		out = append(out, joints.Fault{Code: code, Field: field, Value: value, Rule: rule, Remedy: remedy})
	}
	switch n := len(r.Options); {
	case n == 0:
		add(joints.FaultMissing, "alternatives", "", "there is nothing to compare", "name two joints")
	case n > MostOptions:
		add(joints.FaultRange, "alternatives", strconv.Itoa(n), fmt.Sprintf("are more than %d", MostOptions), "take larger steps")
	}
	seen := map[string]bool{}
	for i := range r.Options {
		o := &r.Options[i]
		if o.Name == "" || seen[o.Name] {
			add(joints.FaultDuplicate, "alternatives", o.Name, "every alternative needs a name of its own", "write `as NAME` behind it")
		}
		seen[o.Name] = true
	}
	if !slices.Contains(Metrics(), r.By) {
		add(joints.FaultUnknown, "by", string(r.By), "is not something alternatives are ranked by", "use one of "+MetricNames())
	}
	reference := r.Reference
	if reference == "" && len(r.Options) > 0 {
		reference = r.Options[0].Name
	}
	switch i := slices.IndexFunc(r.Options, func(o Option) bool { return o.Name == reference }); {
	case len(r.Options) == 0:
	case i < 0:
		names := make([]string, len(r.Options))
		for k := range r.Options {
			names[k] = r.Options[k].Name
		}
		add(joints.FaultUnknown, "reference", reference, "is not the name of an alternative", "use one of "+strings.Join(names, ", "))
	case !slices.ContainsFunc(r.Options, func(o Option) bool { return o.Section != nil }):
		add(joints.FaultUnfit, "alternatives", "", "none of them can be made; "+reference+": "+r.Options[i].Fault, "change what the joint has in common")
	case r.Options[i].Section == nil:
		add(joints.FaultUnfit, "reference", reference, "cannot be made: "+r.Options[i].Fault, "name another alternative as the reference")
	}
	c := &r.Constraints
	if a := c.TorchAngle; !(a >= 0 && a.Degrees() <= 180) {
		add(joints.FaultRange, "torch-angle", fmt.Sprint(a.Degrees()), "must lie between 0° and 180°", "give the room the torch needs")
	}
	if !(c.EdgeAllowance >= 0 && c.EdgeAllowance < 1000) {
		add(joints.FaultRange, "edge", fmt.Sprint(float64(c.EdgeAllowance)), "must lie between 0 and 1000 mm", "give what must be left of an edge")
	}
	for _, l := range []struct {
		field string
		v     geometry.Length
	}{{"throat", c.LeastThroat}, {"root-face", c.MostRootFace}} {
		if !(l.v >= 0 && l.v < 1000) {
			add(joints.FaultRange, l.field, fmt.Sprint(float64(l.v)), "must lie between 0 and 1000 mm", "write 5mm")
		}
	}
	if !(c.MostKgPerM >= 0 && c.MostKgPerM < 1e6) {
		add(joints.FaultRange, "most", fmt.Sprint(c.MostKgPerM), "must be a mass of 0 or more", "give kilograms per metre")
	}
	return out
}

// MetricNames lists the names of metrics.
func MetricNames() string {
	list := Metrics()
	names := make([]string, len(list))
	for i := range list {
		names[i] = string(list[i])
	}
	return strings.Join(names, ", ")
}

func (r *Request) row(o *Option) Row {
	row := Row{Name: o.Name, Note: o.Note, Section: o.Section, Excluded: []string{}, NotMet: []string{}}
	if o.Section == nil {
		row.Excluded = append(row.Excluded, "cannot be made: "+o.Fault)
		return row
	}
	row.Values = new(valuesOf(o))
	row.Throats = throatsOf(o.Section)
	row.Penetration, row.RootFaceMM = penetrationOf(o.Section)
	row.NotOnFile, row.MostRootFaceMM = o.rootFaceOnFile(&row)
	row.NoHeat = o.NoRootArc
	row.papers(o)
	for i := range o.Findings {
		if f := &o.Findings[i]; f.Verdict == check.NotMet && !slices.Contains(row.NotMet, f.Rule) {
			row.NotMet = append(row.NotMet, f.Rule)
		}
	}
	if o.Findings != nil {
		row.MeetsChecks = new(len(row.NotMet) == 0)
	}
	row.Excluded = append(row.Excluded, r.Constraints.broken(&row)...)
	return row
}
