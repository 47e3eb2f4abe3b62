// Package result turns a computed joint into the result that programs read:
// JSON of the schema fay.result/1.
//
// Names carry their unit; lengths are millimetres, areas mm², angles degrees,
// points [x, y] in mm of the section plane. Absent is absent: what was not
// computed has no key, and no value is ever null. Numbers are rounded to
// [Precision], so that the same input gives the same bytes on every machine.
package result

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"reflect"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/filler"
	"fay/joints/jointfile"
)

// Schema names the form of the result.
const Schema = "fay.result/1"

// Precision is what numbers are rounded to, in their own unit: a nanometre, a
// milligram. It is far below what a joint can be made to and far above what
// the last bits of floating point disagree on.
const Precision = 1e-6

// Result is a computed joint. Keys print in the order of the fields.
type Result struct {
	Schema   string   `json:"schema"`
	Joint    Joint    `json:"joint"`
	Cautions []string `json:"cautions"`
	Section  Section  `json:"section"`
	// Seams are the runs of weld along one part, Runs what they come to for
	// each weld; both are absent where the joint gives no seam.
	Seams    []Seam          `json:"seams,omitzero"`
	Runs     []Total         `json:"runs,omitzero"`
	Findings []check.Finding `json:"findings,omitzero"` // absent where nothing was checked
	Filler   *filler.Filler  `json:"filler,omitempty"`
	Heat     *Heat           `json:"heat,omitempty"`
	// Notes are remarks on the joint that are no cautions.
	Notes []string `json:"notes,omitzero"`
}

// Joint is what was asked for.
type Joint struct {
	Kind       string      `json:"kind"`
	Title      string      `json:"title"`
	Parameters []Parameter `json:"parameters"`
	// Digest identifies the joint's meaning, see package jointfile.
	Digest string `json:"digest,omitempty"`
}

// Parameter is one input as taken.
type Parameter struct {
	Name      string      `json:"name"`
	Value     *float64    `json:"value,omitempty"` // of numbers
	Unit      joints.Unit `json:"unit,omitempty"`
	Word      string      `json:"word,omitempty"` // of choices
	Text      string      `json:"text,omitempty"` // as written
	Default   bool        `json:"default"`
	Tolerance *Tolerance  `json:"tolerance,omitempty"`
}

// Tolerance is in the unit of its value; minus is negative or 0.
type Tolerance struct {
	Plus  float64 `json:"plus"`
	Minus float64 `json:"minus"`
}

// Point is a point of the section plane, mm.
type Point [2]float64

// Section is the section in numbers.
type Section struct {
	WeldAreaMM2      float64   `json:"weld_area_mm2"`
	DepositedAreaMM2 float64   `json:"deposited_area_mm2"`
	GrooveAreaMM2    *float64  `json:"groove_area_mm2,omitempty"`
	Welds            []Weld    `json:"welds"`
	Measures         []Measure `json:"measures"`
}

// Weld is one weld. Legs and angles are in the order of the members it joins:
// the continuous or left one first.
type Weld struct {
	ID                string          `json:"id"`
	Kind              joints.WeldKind `json:"kind"`
	LegsMM            *[2]float64     `json:"legs_mm,omitempty"`
	GaugeLegsMM       *[2]float64     `json:"gauge_legs_mm,omitempty"`
	TheoreticalThroat *float64        `json:"theoretical_throat_mm,omitempty"`
	EffectiveThroat   float64         `json:"effective_throat_mm"`
	ActualThroat      float64         `json:"actual_throat_mm"`
	FaceMM            float64         `json:"face_mm"`
	ToeAnglesDeg      [2]float64      `json:"toe_angles_deg"`
	ConvexityMM       *float64        `json:"convexity_mm,omitempty"` // negative: concave
	AreaMM2           float64         `json:"area_mm2"`
	DepositedAreaMM2  float64         `json:"deposited_area_mm2"`
	MeltedBaseAreaMM2 *float64        `json:"melted_base_area_mm2,omitempty"` // where fusion is claimed
	EdgeRemainingMM   *float64        `json:"edge_remaining_mm,omitempty"`    // the smaller one of two
	CapWidthMM        *float64        `json:"cap_width_mm,omitempty"`
	CapHeightMM       *float64        `json:"cap_height_mm,omitempty"`
	CentroidMM        Point           `json:"centroid_mm"`
}

// Measure is one number with the points it is taken between.
type Measure struct {
	Name      string      `json:"name"`
	Weld      string      `json:"weld,omitempty"`
	Member    string      `json:"member,omitempty"`
	Value     float64     `json:"value"`
	Unit      joints.Unit `json:"unit"`
	From      Point       `json:"from"`
	To        Point       `json:"to"`
	Tolerance *Tolerance  `json:"tolerance,omitempty"`
}

// Parts is what a result is put together from.
type Parts struct {
	Section  *joints.Section
	Seams    []jointfile.Seam  // nil: none given
	Totals   []jointfile.Total // of the seams
	Digest   string
	Findings []check.Finding // nil: not checked
	Filler   *filler.Filler  // nil: not computed
	Notes    []string        // besides those of the section
}

// New puts a result together.
func New(p Parts) Result {
	s := p.Section
	r := Result{
		Schema:   Schema,
		Joint:    Joint{Kind: s.Kind, Title: s.Title, Parameters: parameters(s.Parameters), Digest: p.Digest},
		Cautions: Cautions(s, p.Findings),
		Section:  section(s),
		Findings: p.Findings,
		Filler:   p.Filler,
	}
	r.Seams, r.Runs = seams(p.Seams, p.Totals, s.Kind)
	if notes := append(append([]string{}, s.Notes...), p.Notes...); len(notes) > 0 {
		r.Notes = notes
	}
	return r
}

// Cautions are the sentences that go with every result: fay computes geometry
// and published rules, and somebody else answers for the weld.
func Cautions(s *joints.Section, findings []check.Finding) []string {
	cautions := []string{
		"Geometry and published rules only: strength is not computed. The local code and licensed practice decide.",
	}
	for i := range s.Welds {
		if s.Welds[i].Proven {
			cautions = append(cautions, "Proven penetration counts only where tests with this procedure show it.")
			break
		}
	}
	for i := range findings {
		if findings[i].Provenance == check.Memory {
			cautions = append(cautions, "Rules marked memory are not verified against their document.")
			break
		}
	}
	return cautions
}

func parameters(ps []joints.Parameter) []Parameter {
	out := make([]Parameter, 0, len(ps))
	for i := range ps {
		p := &ps[i]
		q := Parameter{Name: p.Name, Unit: p.Unit, Word: p.Choice, Text: p.Text, Default: p.Default, Tolerance: tolerance(p.Tolerance)}
		if p.Unit != "" {
			q.Value = &p.Value
		}
		if q.Text == q.Word {
			q.Text = ""
		}
		out = append(out, q)
	}
	return out
}

func tolerance(t *joints.Tolerance) *Tolerance {
	if t == nil {
		return nil
	}
	return &Tolerance{Plus: t.Plus, Minus: t.Minus}
}

func section(s *joints.Section) Section {
	out := Section{
		WeldAreaMM2: s.WeldArea(), DepositedAreaMM2: s.DepositedArea(),
		Welds: make([]Weld, 0, len(s.Welds)), Measures: make([]Measure, 0, len(s.Measures)),
	}
	groove := 0.0
	for i := range s.Welds {
		out.Welds = append(out.Welds, weld(&s.Welds[i]))
		groove += s.Welds[i].GrooveArea
	}
	if groove > 0 {
		out.GrooveAreaMM2 = &groove
	}
	for i := range s.Measures {
		m := &s.Measures[i]
		out.Measures = append(out.Measures, Measure{
			Name: m.Name, Weld: m.Weld, Member: m.Member, Value: m.Value, Unit: m.Unit,
			From: point(m.From), To: point(m.To), Tolerance: tolerance(m.Tolerance),
		})
	}
	return out
}

func weld(w *joints.Weld) Weld {
	out := Weld{
		ID: w.ID, Kind: w.Kind,
		EffectiveThroat: w.EffectiveThroat.Millimetres(), ActualThroat: w.ActualThroat.Millimetres(),
		FaceMM:           w.FaceWidth.Millimetres(),
		ToeAnglesDeg:     [2]float64{w.Feet[0].ToeAngle.Degrees(), w.Feet[1].ToeAngle.Degrees()},
		AreaMM2:          w.Area,
		DepositedAreaMM2: w.DepositedArea, CentroidMM: point(w.Centroid),
		CapWidthMM: opt(w.CapWidth), CapHeightMM: opt(w.CapHeight),
	}
	if w.Kind == joints.FilletWeld {
		out.LegsMM = &[2]float64{w.Feet[0].Leg.Millimetres(), w.Feet[1].Leg.Millimetres()}
		out.GaugeLegsMM = &[2]float64{w.Feet[0].GaugeLeg.Millimetres(), w.Feet[1].GaugeLeg.Millimetres()}
		out.TheoreticalThroat = new(w.TheoreticalThroat.Millimetres())
		out.ConvexityMM = new(w.Convexity.Millimetres())
	}
	if len(w.FusionLine) > 0 {
		out.MeltedBaseAreaMM2 = new(w.MeltedBaseArea)
	}
	for _, f := range w.Feet {
		if e := opt(f.EdgeRemaining); e != nil && (out.EdgeRemainingMM == nil || *e < *out.EdgeRemainingMM) {
			out.EdgeRemainingMM = e
		}
	}
	return out
}

func opt(o joints.Opt) *float64 {
	if !o.Present {
		return nil
	}
	return new(o.Value.Millimetres())
}

func point(p geometry.Point) Point { return Point{p.X, p.Y} }

// WriteJSON writes v, a [Result] or any value of the same manners, as indented
// JSON with its numbers rounded to [Precision].
func WriteJSON(w io.Writer, v any) error {
	rounded := reflect.New(reflect.TypeOf(v)).Elem()
	rounded.Set(reflect.ValueOf(v))
	data, err := json.MarshalIndent(round(rounded).Interface(), "", "  ")
	if err != nil {
		return fmt.Errorf("result: %w", err)
	}
	if _, err := w.Write(append(data, '\n')); err != nil {
		return fmt.Errorf("write result: %w", err)
	}
	return nil
}

// round returns a copy of v with every number rounded; v itself is not changed.
func round(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.Float64:
		out.SetFloat(Round(v.Float()))
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return v
		}
		if v.Kind() == reflect.Interface {
			out.Set(round(v.Elem()))
			break
		}
		out.Set(reflect.New(v.Type().Elem()))
		out.Elem().Set(round(v.Elem()))
	case reflect.Slice:
		if v.IsNil() {
			return v
		}
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			out.Index(i).Set(round(v.Index(i)))
		}
	case reflect.Struct:
		out.Set(v)
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() { // others are not printed
				out.Field(i).Set(round(v.Field(i)))
			}
		}
	default:
		return v
	}
	return out
}

// Round rounds a number to [Precision] and turns −0 into 0.
func Round(v float64) float64 {
	if math.Abs(v) > 1e9 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	// Dividing by a whole number gives the float64 nearest to the decimal;
	// multiplying by 1e-6 would leave noise in the last digits.
	r := math.Round(v*1e6) / 1e6
	if r == 0 {
		return 0
	}
	return r
}
