package macro

import (
	"math"
	"reflect"
	"slices"
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/jointfile"
)

// Report is a record held against its plan.
type Report struct {
	Record *Record
	// Weld is the weld as planned.
	Weld  *joints.Weld
	Items []Item
	// Findings are those of the rules that speak of what was measured.
	Findings  []check.Finding
	Documents []string // the rule documents, at their levels
	Flags     []Flag
	Notes     []string
	// Verdict is not met where an item or a flag is, cannot tell where one
	// could not be told, else met.
	Verdict check.Verdict
	Outline *Outline // for drawing; nil where legs were not measured
}

// Outline is the measured fillet placed on the planned section, and the plan's
// own; mm of the section plane.
type Outline struct {
	Root      geometry.Point // joint root
	Toes      [2]geometry.Point
	Face      geometry.Edge
	WeldRoot  geometry.Point
	Throat    joints.Line
	Corner    geometry.Point // of the abutting member, across the measured gap
	Reached   bool           // penetration was measured or shown
	Recovered bool           // from points
}

// Levels lists the quality levels among rule documents: the single letters behind
// the slash.
func Levels(ids []string) []string {
	levels := []string{}
	for _, id := range ids {
		if _, level, ok := strings.Cut(id, "/"); ok && len(level) == 1 && !slices.Contains(levels, level) {
			levels = append(levels, level)
		}
	}
	slices.Sort(levels)
	return levels
}

// atLevel puts the documents that have the level at it.
func atLevel(ids []string, level string, all []string) (out []string, found bool) {
	for _, id := range ids {
		base, old, ok := strings.Cut(id, "/")
		if want := base + "/" + level; ok && len(old) == 1 && slices.Contains(all, want) {
			id, found = want, true
		}
		if !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	return out, found
}

// Evaluate holds a record that was read against facts.Section against the plan,
// its tolerances and the rule documents. The error is [jointfile.Faults] or, for
// documents that are not on file, [joints.Faults].
func Evaluate(rec *Record, facts check.Facts, ids []string) (Report, error) {
	w, ok := facts.Section.Weld(rec.Weld)
	if !ok {
		return Report{}, jointfile.Faults{rec.Refuse(joints.Fault{Code: joints.FaultUnknown, Field: "weld", Value: rec.Weld,
			Rule: "is not a weld of this joint", Remedy: "read the record with its joint"})}
	}
	if rec.Level != "" {
		all := documents.IDs()
		if ids, ok = atLevel(ids, rec.Level, all); !ok {
			return Report{}, jointfile.Faults{rec.Refuse(joints.Fault{Code: joints.FaultConflict, Field: "level", Value: rec.Level,
				Rule: "no rule document chosen for this joint has such a level", Remedy: "choose one under checks, such as iso-5817-2014/" + rec.Level})}
		}
	}
	r := Report{Record: rec, Weld: w, Documents: ids}
	measured := rec.Sizes.measured()
	measured.HiLo.Value = length(math.Abs(float64(measured.HiLo.Value)))
	facts.Measured = nil
	planned, err := documents.Run(&facts, ids)
	if err != nil {
		return Report{}, err
	}
	facts.Measured = map[string]check.Measured{w.ID: measured}
	findings, err := documents.Run(&facts, ids)
	if err != nil {
		return Report{}, err
	}
	l := &lister{rec: rec, section: facts.Section, weld: w}
	r.Items = l.list()
	r.findings(findings, planned)
	for i := range r.Items {
		r.Items[i].decide(r.Findings)
	}
	show := func(mm float64) string { return facts.Show(length(mm)) }
	if w.Kind == joints.FilletWeld {
		f := newFrame(facts.Section, w)
		if flag := consistency(&f, rec, show); flag != nil {
			r.Flags = append(r.Flags, *flag)
		}
		r.Outline = outline(&f, rec)
	}
	r.notes(show)
	r.Verdict = r.verdict()
	return r, nil
}

// findings keeps what the rules say of measured sizes of this weld.
func (r *Report) findings(findings, planned []check.Finding) {
	r.Findings = []check.Finding{}
	for i := range findings {
		f := &findings[i]
		if f.Weld != r.Weld.ID || f.Verdict == check.NotApplicable {
			continue
		}
		if q, ok := check.LookupQuantity(f.Rule); ok {
			if r.measured(q.Name) {
				r.Findings = append(r.Findings, *f)
			}
			continue
		}
		// Other rules count where the measured sizes changed what they say.
		same := func(g check.Finding) bool { return reflect.DeepEqual(g, *f) }
		if !slices.ContainsFunc(planned, same) {
			r.Findings = append(r.Findings, *f)
		}
	}
}

// measured tells whether a size that the quantity is taken from was measured.
func (r *Report) measured(quantity string) bool {
	for i := range r.Items {
		if it := &r.Items[i]; it.Measured != nil && slices.Contains(quantities[it.ID], quantity) {
			return true
		}
	}
	return false
}

// decide settles the verdict of an item: its own limits, then the rules.
func (it *Item) decide(findings []check.Finding) {
	if it.Measured == nil {
		it.Verdict, it.Note = check.CannotTell, "not measured"
		return
	}
	ruled, failed, doubt := false, false, ""
	// A default gives way to a rule; a tolerance of the joint file does not.
	if it.Basis == basisThroat && spoken(findings) {
		it.Low, it.Basis = nil, ""
	}
	for i := range findings {
		f := &findings[i]
		q, ok := check.LookupQuantity(f.Rule)
		if !ok || !slices.Contains(quantities[it.ID], q.Name) {
			continue
		}
		it.Rules = append(it.Rules, f.Rule)
		switch {
		case f.Failure():
			ruled, failed = true, true
			it.limit(q.Name, f)
		case f.Verdict == check.NotMet:
			doubt = f.Rule + " is not met by values from memory, unverified"
		case f.Verdict == check.Met && f.Provenance != check.Memory:
			ruled = true
			it.limit(q.Name, f)
			if f.Note != "" && strings.Contains(f.Note, "short imperfection") {
				it.addNote("allowed as a short imperfection only; a section does not show its length")
			}
		}
	}
	if it.Low == nil && it.High == nil && !ruled && *it.Measured == 0 && it.Planned == nil {
		it.High, it.Basis = new(0.0), basisNone
	}
	limited := it.Low != nil || it.High != nil
	outside := it.Low != nil && *it.Measured < *it.Low-tiny || it.High != nil && *it.Measured > *it.High+tiny
	switch {
	case outside || failed:
		it.Verdict = check.NotMet
	case doubt != "":
		it.Verdict = check.CannotTell
		it.addNote(doubt)
	case limited || ruled:
		it.Verdict = check.Met
	case it.ID == "area" || it.ID == "angle":
		it.Verdict = check.NotApplicable
		it.addNote("for information: no tolerance in the joint file")
	default:
		it.Verdict = check.CannotTell
		it.addNote("no tolerance in the joint file and no rule with values on file")
	}
}

// spoken tells whether a rule that is not merely remembered says how short the
// throat may be.
func spoken(findings []check.Finding) bool {
	return slices.ContainsFunc(findings, func(f check.Finding) bool {
		q, ok := check.LookupQuantity(f.Rule)
		return ok && (q.Name == "throat" || q.Name == "throat-shortfall") && f.Provenance != check.Memory && (f.Verdict == check.Met || f.Verdict == check.NotMet)
	})
}

// limit narrows what is allowed to what a rule requires of the quantity.
func (it *Item) limit(quantity string, f *check.Finding) {
	if f.Required == nil || f.Operator != check.AtMost {
		return
	}
	low, high := math.NaN(), *f.Required
	switch quantity {
	case "throat-shortfall":
		low, high = *it.Planned-*f.Required, math.NaN()
	case "throat-excess":
		high += *it.Planned
	case "concavity":
		low, high = -*f.Required, math.NaN()
	case "hi-lo":
		low = -*f.Required
	case "leg-minimum", "leg-maximum":
		return // of both legs: the plan's limits are those of each
	}
	narrowed := false
	if !math.IsNaN(low) && (it.Low == nil || *it.Low < low) {
		it.Low, narrowed = &low, true
	}
	if !math.IsNaN(high) && (it.High == nil || *it.High > high) {
		it.High, narrowed = &high, true
	}
	if !narrowed {
		return
	}
	if it.Basis != "" {
		it.Basis += "; "
	}
	it.Basis += f.Rule
}

func (it *Item) addNote(note string) {
	if it.Note != "" {
		note = it.Note + "; " + note
	}
	it.Note = note
}

func (r *Report) verdict() check.Verdict {
	v := check.Met
	take := func(w check.Verdict) {
		if w == check.NotMet || w == check.CannotTell && v == check.Met {
			v = w
		}
	}
	for i := range r.Items {
		take(r.Items[i].Verdict)
	}
	for i := range r.Flags {
		take(r.Flags[i].Verdict)
	}
	for i := range r.Findings {
		if r.Findings[i].Failure() {
			take(check.NotMet)
		}
	}
	return v
}

// notes says what else a reader should know.
func (r *Report) notes(show func(float64) string) {
	r.Notes = []string{}
	if rec := r.Record; rec.Profile != nil {
		r.Notes = append(r.Notes, "legs, throat and convexity are fitted to points; these lie within "+show(rec.Profile.Residual)+" (root mean square) of the fit")
		if off := math.Abs((rec.Profile.Psi - r.Weld.Dihedral).Degrees()); off > looseAngle {
			r.Notes = append(r.Notes, "the surfaces meet at "+number(math.Round(rec.Profile.Psi.Degrees()*10)/10)+"°, planned "+number(r.Weld.Dihedral.Degrees())+"°: check which points are on which member")
		}
	} else if rec.Sizes.Legs[0].Present && r.Weld.Kind == joints.FilletWeld {
		r.Notes = append(r.Notes, "sizes count as read, to ±"+show(float64(rec.Reading)))
	}
}

// looseAngle is the departure of the dihedral angle, degrees, from which a
// mix-up of points is likelier than the fit-up. Common practice, no source.
const looseAngle = 5.0

func outline(f *frame, rec *Record) *Outline {
	s := &rec.Sizes
	if !s.Legs[0].Present {
		return nil
	}
	shape := f.shape(s)
	if rec.Profile != nil {
		shape = rec.Profile.Shape
	}
	face := shape.Face()
	o := &Outline{Root: f.weld.JointRoot, WeldRoot: f.out(shape.Root), Reached: s.Penetration.Present, Recovered: rec.Profile != nil,
		Toes:   [2]geometry.Point{f.out(shape.Toe(0)), f.out(shape.Toe(1))},
		Corner: f.out(f.cornerAt(shape.Psi, s.Gap))}
	sagitta := face.Sagitta()
	if f.along.Cross(f.across) < 0 {
		sagitta = -sagitta
	}
	o.Face = geometry.Arc(o.Toes[0], o.Toes[1], sagitta)
	line := shape.Throat()
	o.Throat = joints.Line{From: f.out(line.From), To: f.out(line.To)}
	return o
}
