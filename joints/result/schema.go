package result

import (
	"fmt"
	"reflect"
	"strings"

	"github.com/google/jsonschema-go/jsonschema"

	"fay/joints"
	"fay/joints/check"
	"fay/joints/heat"
	"fay/joints/jointfile"
)

// words are the closed lists of words in a result: every constant of a type.
var words = map[reflect.Type][]any{
	reflect.TypeFor[joints.Unit]():      {joints.UnitMM, joints.UnitMM2, joints.UnitMM3, joints.UnitDegree, joints.UnitRatio, joints.UnitPercent},
	reflect.TypeFor[joints.WeldKind]():  {joints.FilletWeld, joints.GrooveWeld, joints.EdgeWeld, joints.PlugWeld},
	reflect.TypeFor[joints.Axis]():      {joints.AxisUpright, joints.AxisLevel},
	reflect.TypeFor[check.Verdict]():    {check.Met, check.NotMet, check.NotApplicable, check.CannotTell},
	reflect.TypeFor[check.Provenance](): {check.Primary, check.Secondary, check.Memory, check.CommonPractice, check.Shop},
	reflect.TypeFor[check.Operator]():   {check.AtLeast, check.AtMost},
	reflect.TypeFor[heat.Enough]():      {heat.Yes, heat.Perhaps, heat.No},
	reflect.TypeFor[heat.Class]():       {heat.Even, heat.Favour, heat.Strong},
	reflect.TypeFor[heat.Regime]():      {heat.Thin, heat.Intermediate, heat.Thick},
	reflect.TypeFor[heat.PointKind]():   {heat.RootPoint, heat.ToePoint, heat.EdgePoint},
	reflect.TypeFor[heat.State]():       {heat.Solid, heat.Mushy, heat.Molten},
	reflect.TypeFor[heat.Provenance](): {
		heat.Primary, heat.Computed, heat.Secondary, heat.Shop, heat.CommonPractice, heat.OwnChoice, heat.Memory,
	},
}

// unitNames explain the units that names end in. What is an amount is never
// negative.
var unitNames = []struct {
	suffix, doc string
	amount      bool
}{
	{"_mm2", "square millimetres", true},
	{"_cm3", "cubic centimetres", true},
	{"_cm3_per_m", "cubic centimetres per metre of weld", true},
	{"_kg_per_m", "kilograms per metre of weld", true},
	{"_cm3_per_seam", "cubic centimetres per part", true},
	{"_kg_per_seam", "kilograms per part", true},
	{"_kg_total", "kilograms in all", true},
	{"_g_per_cm3", "grams per cubic centimetre", true},
	{"_m_per_m", "metres per metre of weld", true},
	{"_m_per_seam", "metres per part", true},
	{"_m_total", "metres in all", true},
	{"_per_m", "per metre of weld", true},
	{"_j_per_mm", "joules per millimetre of weld", true},
	{"_j_per_in", "joules per inch of weld", true},
	{"_mm_per_s", "millimetres per second", true},
	{"_percent", "percent", true},
	{"_w", "watts", false},
	{"_a", "amperes", false},
	{"_v", "volts", false},
	{"_c", "degrees Celsius", false},
	{"_k", "kelvins", false},
	{"_s", "seconds", true},
	{"_deg", "degrees", false},
	{"_mm", "millimetres", false},
	{"_m", "metres", true},
	{"_m3", "cubic metres", true},
	{"_kg", "kilograms", true},
	{"_min", "minutes", true},
}

// topDocs explain the keys of a result.
var topDocs = map[string]string{
	"schema":   "form of this result",
	"joint":    "what was asked for",
	"cautions": "sentences that go with every result",
	"section":  "the section in numbers; points are [x, y] of the section plane, from the joint root of the arrow side",
	"seams":    "the runs of weld along one part; absent where the joint gives none",
	"runs":     "what each weld comes to over all seams of one part",
	"findings": "what each rule says; absent where nothing was checked",
	"filler":   "the filler metal; absent where it was not computed",
	"heat":     "which member takes the heat and what melts the root; absent where it was not computed",
	"notes":    "remarks that are no cautions",
}

// JSONSchema describes results to the programs that read them. It is built
// from the types that are written, so that the two cannot part. No value is
// ever null.
func JSONSchema() *jsonschema.Schema {
	s := SchemaOf[Result](nil)
	s.ID, s.Title, s.Description = "urn:fay:result:1", "Result", "A computed joint. Names carry their unit; what was not computed has no key."
	Form(s, Schema)
	s.Properties["cautions"].MinItems = new(1)
	for name, doc := range topDocs {
		s.Properties[name].Description = doc
	}
	return s
}

// SchemaOf describes what is written of a type, built from the type itself. The
// closed lists of words are those of results and, by their type, some more.
func SchemaOf[T any](more map[reflect.Type][]any) *jsonschema.Schema {
	types := map[reflect.Type]*jsonschema.Schema{}
	for _, lists := range []map[reflect.Type][]any{words, more} {
		for t, list := range lists {
			types[t] = &jsonschema.Schema{Type: "string", Enum: list}
		}
	}
	s, err := jsonschema.For[T](&jsonschema.ForOptions{TypeSchemas: types})
	if err != nil {
		panic(fmt.Sprintf("result: %v", err)) // a type of ours that has no schema
	}
	settle("", s)
	s.Schema = jointfile.SchemaDraft
	return s
}

// Form fixes what the key schema of a result says.
func Form(s *jsonschema.Schema, form string) {
	var text any = form
	s.Properties["schema"].Const = &text
}

// settle takes null away, which is never written, and explains units.
func settle(name string, s *jsonschema.Schema) {
	if s == nil {
		return
	}
	if len(s.Types) == 2 && s.Types[0] == "null" {
		s.Type, s.Types = s.Types[1], nil
	}
	for _, u := range unitNames {
		if !strings.HasSuffix(name, u.suffix) {
			continue
		}
		if s.Type != "array" {
			s.Description = u.doc
		}
		if u.amount && s.Type == "number" {
			s.Minimum = new(0.0)
		}
		break
	}
	for key, p := range s.Properties {
		settle(key, p)
	}
	settle(name, s.Items)
}
