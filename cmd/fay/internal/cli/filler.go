package cli

import (
	"bytes"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/filler"
	"fay/joints/result"
)

// fillerOptions are what `fay filler` is told.
type fillerOptions struct {
	args   []string
	format string
}

func (a *app) filler() *cobra.Command {
	var o fillerOptions
	cmd := &cobra.Command{
		Use:   "filler FILE|KIND|- [name=value …]",
		Short: "Compute the filler metal a joint takes",
		Long: `filler computes volume, mass and rods or wire from the deposited area. What the
joint does not say of its filler comes from your settings. Nothing is added for
tacks, oversize or waste.`,
		Example: `  fay filler tee base=8 stem=3 leg=3 seam.length=180 filler.type=5183
  fay filler lap lower=6 upper=4 overlap=30 leg=4 --format json`,
		ValidArgsFunction: completeJoint,
		RunE: func(_ *cobra.Command, args []string) error {
			o.args = args
			return a.runFiller(&o)
		},
	}
	formatFlag(cmd, &o.format)
	return cmd
}

func (a *app) runFiller(o *fillerOptions) error {
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	j, err := a.joint(o.args)
	if err != nil {
		return err
	}
	used, err := j.filler()
	if err != nil {
		return err
	}
	res := result.New(result.Parts{Section: &j.doc.Section, Digest: j.doc.Digest, Filler: &used, Notes: j.allNotes()})
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, res)
	case asCSV:
		t := table{heads: []string{"name", "value", "unit"}}
		for _, l := range fillerLines(&used) {
			t.add(l.name, plain(&l.value), l.unit)
		}
		err = t.csv(&out)
	default:
		j.printFiller(&out, form, &used)
		tail(&out, form, res.Notes, res.Cautions)
	}
	if err != nil {
		return err
	}
	return a.print(out.Bytes())
}

// fillerNames maps the fields of package filler to those of a joint file.
var fillerNames = map[string]string{
	"rod.diameter": "filler.diameter", "wire.diameter": "filler.diameter",
	"rod.length": "filler.length", "rod.stub": "filler.stub", "quantity": "traveler.quantity",
	"density": "filler.type", "efficiency": "filler.process",
}

// filler computes the filler from the joint file and, where it is silent, the
// settings.
func (j *job) filler() (filler.Filler, error) {
	params := filler.Params{DepositedArea: j.doc.Section.DepositedArea()}
	var faults joints.Faults
	process := j.settings.Process
	if text := j.doc.Filler.Process; text != "" {
		p, err := config.ParseProcess(text)
		if err != nil {
			faults = append(faults, joints.Fault{Code: joints.FaultUnknown, Field: "filler.process", Value: text,
				Rule: "is not a welding process on file", Remedy: err.Error()})
		}
		process = p
	}
	name := j.fillerName()
	if name == "" {
		j.notes = append(j.notes, "no filler named: volumes without masses; give filler.type, such as filler.type=5183")
	} else if metal, err := j.catalogue.Filler(name); err != nil {
		faults = append(faults, joints.Fault{Code: joints.FaultUnknown, Field: "filler.type", Value: name,
			Rule: "is not a filler on file", Remedy: err.Error() + "; or add it under fillers in your settings"})
	} else {
		params.Density, params.DensitySource = metal.Density.GramsPerCubicCentimetre(), metal.Source.String()
		if !metal.Density.OnFile() {
			j.notes = append(j.notes, "filler "+metal.Name+": "+metal.Note)
		}
	}
	if len(faults) > 0 {
		return filler.Filler{}, j.placed(faults, nil)
	}
	j.consumable(&params, process)
	if volume := j.volume(); volume > 0 {
		// The length of weld of the section's whole area that holds the
		// volume: segments and centroids of round seams are counted in it.
		params.SeamLength = geometry.Length(volume / params.DepositedArea)
		params.Quantity = j.doc.Traveler.Quantity
	}
	used, err := filler.New(params)
	if err != nil {
		return filler.Filler{}, j.placed(err, fillerNames)
	}
	return used, nil
}

// volume is the deposited metal of one part, mm³; 0 where no seam is given.
func (j *job) volume() float64 {
	v := 0.0
	for i := range j.doc.Runs {
		v += j.doc.Runs[i].Volume
	}
	return v
}

// consumable sets the efficiency of the process and the rod or wire it melts.
func (j *job) consumable(params *filler.Params, process config.Process) {
	params.Efficiency = 1
	stubs := false
	if e, ok := config.DefaultEfficiency(process); ok {
		params.Efficiency, params.EfficiencySource, stubs = e.Value, e.String()+": "+e.Source.String(), e.IncludesStub
	}
	given, preset := &j.doc.Filler, &j.settings.Filler
	diameter := pick(given.Diameter, preset.Diameter)
	switch process {
	case config.GTAW, config.SMAW:
		rod := &filler.Rod{
			Diameter: diameter, CutLength: pick(given.Length, preset.Length),
			Stub: pick(given.Stub, preset.Stub), StubFusedOn: preset.StubFused,
		}
		if given.StubFused != nil {
			rod.StubFusedOn = *given.StubFused
		}
		if stubs {
			rod.Stub = 0 // the efficiency counts it already
			j.notes = append(j.notes, "the efficiency of "+string(process)+" counts thrown-away stubs already")
		}
		params.Rod = rod
	default:
		params.Wire = &filler.Wire{Diameter: diameter}
	}
}

func pick(given joints.Opt, preset geometry.Length) geometry.Length {
	if given.Present {
		return given.Value
	}
	return preset
}

// line is one number of the filler with its unit.
type line struct {
	name  string
	value float64
	unit  string
}

// fillerLines lists the numbers there are.
func fillerLines(f *filler.Filler) []line {
	var out []line
	add := func(name string, v *float64, unit string) {
		if v != nil {
			out = append(out, line{name, *v, unit})
		}
	}
	add("deposited area", &f.DepositedAreaMM2, "mm²")
	add("volume per metre", &f.VolumeCm3PerM, "cm³/m")
	add("density", f.DensityGPerCm3, "g/cm³")
	add("deposition efficiency", &f.Efficiency, "")
	add("overall efficiency", &f.OverallEfficiency, "")
	add("deposited per metre", f.DepositedKgPerM, "kg/m")
	add("consumed per metre", f.ConsumedKgPerM, "kg/m")
	add("bought per metre", f.BoughtKgPerM, "kg/m")
	add("rod diameter", f.RodDiameterMM, "mm")
	add("rod length", f.RodLengthMM, "mm")
	add("rod melted of each", f.RodUsableMM, "mm")
	add("rod per weld length", f.RodFeedRatio, "")
	add("rods per metre", f.RodsPerM, "")
	add("wire diameter", f.WireDiameterMM, "mm")
	add("wire per metre", f.WireMPerM, "m/m")
	add("volume per part", f.VolumeCm3PerSeam, "cm³")
	add("deposited per part", f.DepositedKgPerSeam, "kg")
	add("consumed per part", f.ConsumedKgPerSeam, "kg")
	add("bought per part", f.BoughtKgPerSeam, "kg")
	add("rods per part", f.RodsPerSeam, "")
	add("wire per part", f.WireMPerSeam, "m")
	add("bought in all", f.BoughtKgTotal, "kg")
	if f.RodsTotal != nil {
		out = append(out, line{"rods in all", float64(*f.RodsTotal), ""})
	}
	add("wire in all", f.WireMTotal, "m")
	return out
}

// printFiller prints the filler for people.
func (j *job) printFiller(w *bytes.Buffer, f format, used *filler.Filler) {
	q := j.quantities()
	j.printJoint(w, f, q)
	heading(w, f, "Filler")
	t := table{heads: []string{"", "", ""}}
	if f == asMD {
		t.heads = []string{"name", "value", "source"}
	}
	for _, l := range fillerLines(used) {
		text, source := q.fillerText(&l), ""
		switch l.name {
		case "density":
			source = used.DensitySource
		case "deposition efficiency":
			source = used.EfficiencySource
		case "rods in all":
			text = strconv.Itoa(*used.RodsTotal)
		}
		t.add(l.name, text, source)
	}
	t.in(f, w)
}

// Exact by definition: the pound (international agreement, 1959) and the inch.
const (
	kgPerPound     = 0.45359237
	metresPerFoot  = 0.3048
	cm3PerCubicIn  = 2.54 * 2.54 * 2.54
	perMetreSuffix = " per metre"
)

// fillerText prints the value of a line in the units of the shop; where those
// are inches, weights are pounds and the length they are counted on is a foot.
func (q quantities) fillerText(l *line) string {
	switch l.unit {
	case "mm":
		return q.length(l.value)
	case "mm²":
		return q.area(l.value)
	}
	v, unit := l.value, l.unit
	if q.unit == geometry.UnitInch {
		if name, ok := strings.CutSuffix(l.name, perMetreSuffix); ok && name != "wire" {
			l.name, v = name+" per foot", v*metresPerFoot
		}
		switch unit {
		case "cm³/m":
			v, unit = v/cm3PerCubicIn, "in³/ft"
		case "kg/m":
			v, unit = v/kgPerPound, "lb/ft"
		case "cm³":
			v, unit = v/cm3PerCubicIn, "in³"
		case "kg":
			v, unit = v/kgPerPound, "lb"
		case "m/m":
			unit = "ft/ft"
			l.name = "wire per foot"
		case "m":
			v, unit = v/metresPerFoot, "ft"
		}
	}
	if unit == "" {
		return significant(v)
	}
	return significant(v) + " " + unit
}
