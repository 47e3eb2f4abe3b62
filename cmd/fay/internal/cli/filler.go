package cli

import (
	"bytes"
	"fmt"
	"math"
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

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
	step   string
}

func (a *app) filler() *cobra.Command {
	var o fillerOptions
	cmd := &cobra.Command{
		Use:   "filler FILE|KIND|- [name=value …]",
		Short: "Compute the filler metal a joint takes",
		Long: `filler computes volume, mass, rods or wire, packs to buy, passes, arc time and
gas from the deposited area, by weld, seam, part and batch, and what one size
over costs. What the joint does not say of its filler comes from your settings.

Deposited is what is in the weld. Needed is what that takes of rods or wire, with
allowances, losses, stubs and waste; without the stubs and the waste it is
consumed, in CSV and JSON. To buy is whole packs. Rod per pass is the length of
rod that the hand feeds along a length of each pass.

Costs come from your own prices alone, and allowances are zero unless you give
them. Percentages are added on: --waste 5 needs 105 for every 100 used.`,
		Example: `  fay filler tee base=8 stem=3 leg=3 seam.length=180 filler.type=5183
  fay filler lap lower=6 upper=4 overlap=30 leg=4 --waste 5 --format json`,
		ValidArgsFunction: completeJoint,
		PreRun:            func(cmd *cobra.Command, _ []string) { a.allowances(cmd.Flags()) },
		RunE: func(_ *cobra.Command, args []string) error {
			o.args = args
			return a.runFiller(&o)
		},
	}
	formatFlag(cmd, &o.format)
	allowanceFlags(cmd)
	cmd.Flags().StringVar(&o.step, "over", "", "`size` that one size over is; 1mm or 1/16in when left out")
	return cmd
}

// ownFlags are the allowances and times of work that a flag can give, with the
// settings that they stand over.
var ownFlags = []struct{ name, key, doc string }{
	{"oversize", "allowances.oversize", "`percent` of metal laid beyond the plan, added to the deposited metal"},
	{"tack", "allowances.tack", "`percent` of metal in tack welds, added to the deposited metal"},
	{"waste", "allowances.waste", "`percent` of filler dropped or cut off, added to what is used"},
	{"prepare", "work.edge", "your `minutes` to prepare a metre of one face of an edge"},
	{"turn", "work.turn", "your `minutes` to turn the part once"},
	{"gouge", "work.gouge", "your `minutes` to gouge a metre of root"},
}

func allowanceFlags(cmd *cobra.Command) {
	for _, f := range ownFlags {
		cmd.Flags().String(f.name, "", f.doc)
	}
}

// allowances passes the flags of allowances and of work on as settings.
func (a *app) allowances(flags *pflag.FlagSet) {
	for _, own := range ownFlags {
		if f := flags.Lookup(own.name); f.Changed {
			a.overrides = append(a.overrides, config.Override{Key: own.key, Value: f.Value.String(), Name: "--" + own.name})
		}
	}
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
	step, err := j.step(o.step)
	if err != nil {
		return err
	}
	used, err := j.fillerOver(step)
	if err != nil {
		return err
	}
	res := result.New(result.Parts{Section: &j.doc.Section, Seams: j.doc.Seams, Totals: j.doc.Runs, Digest: j.doc.Digest, Filler: &used, Notes: j.allNotes()})
	options := j.sheetOptions()
	style := options.Style()
	res.Cautions = append(append(res.Cautions, style.Word("caution.solvent")), j.gasCaution(&style)...)
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, res)
	case asCSV:
		t := table{heads: []string{"name", "value", "unit"}}
		for _, l := range append(fillerLines(&used), partLines(&used)...) {
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

// step is one size: what the flag says, else 1 mm or 1/16 in.
func (j *job) step(text string) (geometry.Length, error) {
	if text == "" {
		if j.doc.Units == geometry.UnitInch {
			return geometry.Inch / 16, nil
		}
		return geometry.Millimetre, nil
	}
	step, err := geometry.ParseLength(text, geometry.LengthSyntax{Bare: j.bare})
	if r := filler.StepRange; err != nil || float64(step) < r.Min || float64(step) > r.Max {
		return 0, usage(fmt.Sprintf("--over %q: is not a size from %g to %g mm", text, r.Min, r.Max), "write 1mm or 1/16in")
	}
	return step, nil
}

// fillerNames maps the fields of package filler to those of a joint file.
var fillerNames = map[string]string{
	"rod.diameter": "filler.diameter", "wire.diameter": "filler.diameter",
	"rod.length": "filler.length", "rod.stub": "filler.stub", "quantity": "traveler.quantity",
	"density": "filler.type", "efficiency": "filler.process",
}

// filler computes the filler with what one size over takes more.
func (j *job) filler() (filler.Filler, error) {
	step, err := j.step("")
	if err != nil {
		return filler.Filler{}, err
	}
	return j.fillerOver(step)
}

// fillerPlain computes the filler alone.
func (j *job) fillerPlain() (filler.Filler, error) {
	params, err := j.fillerParams()
	if err != nil {
		return filler.Filler{}, err
	}
	return j.computed(&params)
}

// fillerOver computes the filler and what a joint takes more that is a step
// larger.
func (j *job) fillerOver(step geometry.Length) (filler.Filler, error) {
	params, err := j.fillerParams()
	if err != nil {
		return filler.Filler{}, err
	}
	params.Over = j.over(step)
	return j.computed(&params)
}

func (j *job) computed(params *filler.Params) (filler.Filler, error) {
	used, err := filler.New(*params)
	if err != nil {
		return filler.Filler{}, j.placed(err, fillerNames)
	}
	return used, nil
}

// over builds the joint one size over.
func (j *job) over(step geometry.Length) *filler.Over {
	out := &filler.Over{Step: step}
	larger, what, err := filler.OneSizeOver(j.doc.Input, &j.doc.Section, step)
	if err == nil {
		out.What = what
		out.Welds = welds(&larger)
		for i := range j.doc.Seams {
			runs, wrong := larger.Runs(j.doc.Seams[i].Seam, "seam.")
			if err = wrong; err != nil {
				break
			}
			out.Runs = append(out.Runs, runsOf(i, runs)...)
		}
	}
	if err != nil {
		out = &filler.Over{Step: step, None: reason(err)}
	}
	return out
}

// reason is the first fault in words.
func reason(err error) string {
	if faults := joints.AsFaults(err); len(faults) > 0 {
		text := faults[0].Field
		if faults[0].Value != "" {
			text += " = " + faults[0].Value
		}
		return text + ": " + faults[0].Rule
	}
	return err.Error()
}

func welds(s *joints.Section) []filler.Weld {
	out := make([]filler.Weld, len(s.Welds))
	for i := range s.Welds {
		out[i] = filler.Weld{ID: s.Welds[i].ID, Area: s.Welds[i].DepositedArea}
	}
	return out
}

func runsOf(seam int, runs []joints.Run) []filler.Run {
	out := make([]filler.Run, len(runs))
	for i, r := range runs {
		out[i] = filler.Run{Seam: seam + 1, Weld: r.Weld, Length: r.Length, Volume: r.Volume}
	}
	return out
}

// fillerParams takes the filler from the joint file and, where it is silent,
// from the settings.
func (j *job) fillerParams() (filler.Params, error) {
	params := filler.Params{Welds: welds(&j.doc.Section), Quantity: j.doc.Traveler.Quantity}
	for i := range j.doc.Seams {
		params.Runs = append(params.Runs, runsOf(i, j.doc.Seams[i].Runs)...)
	}
	if len(params.Runs) == 0 {
		params.Quantity = 0 // parts of no length
	}
	process, metal, err := j.consumables(&params)
	if err != nil {
		return filler.Params{}, err
	}
	s := j.settings
	params.Allowances = filler.Allowances(s.Allowances)
	params.Rates = filler.Rates{Currency: s.Costs.Currency, Labour: s.Costs.Labour, Gas: s.Costs.Gas, ArcShare: s.Costs.ArcShare}
	params.Cylinder = s.Cylinder
	if w := s.Work; w != (config.Work{}) {
		params.Work = filler.WorkOf(&j.doc.Section)
		params.Work.EdgeMinPerM, params.Work.TurnMin, params.Work.GougeMinPerM = w.Edge, w.Turn, w.Gouge
		if params.Work.TurnMin > 0 && params.Work.Turns > 0 && len(params.Runs) == 0 {
			j.note("turning the part is in no time and cost per metre without a seam: give seam.length")
		}
	}
	j.pace(&params, process, metal.Family)
	j.sold(&params, metal)
	return params, nil
}

// process is that of the joint, else of the settings.
func (j *job) process() (config.Process, error) {
	if text := j.doc.Filler.Process; text != "" {
		return config.ParseProcess(text)
	}
	return j.settings.Process, nil
}

// consumables finds process and filler metal.
func (j *job) consumables(params *filler.Params) (config.Process, config.Filler, error) {
	var faults joints.Faults
	process, err := j.process()
	if err != nil {
		faults = append(faults, joints.Fault{Code: joints.FaultUnknown, Field: "filler.process", Value: j.doc.Filler.Process,
			Rule: "is not a welding process on file", Remedy: err.Error()})
	}
	metal, name := config.Filler{}, j.fillerName()
	if name == "" {
		j.note("no filler named: volumes without masses; give filler.type, such as filler.type=5183")
	} else {
		found, err := j.catalogue.Filler(name)
		if err != nil {
			faults = append(faults, joints.Fault{Code: joints.FaultUnknown, Field: "filler.type", Value: name,
				Rule: "is not a filler on file", Remedy: err.Error() + "; or add it under fillers in your settings"})
		}
		metal = found
		params.Density, params.DensitySource = metal.Density.GramsPerCubicCentimetre(), papers(j, metal.Source)
		if err == nil && !metal.Density.OnFile() {
			j.note("filler " + metal.Name + ": " + metal.Note)
		}
	}
	if len(faults) > 0 {
		return "", config.Filler{}, j.placed(faults, nil)
	}
	j.consumable(params, process)
	return process, metal, nil
}

// papers prints where a number is from, for those who ask.
func papers[T fmt.Stringer](j *job, of T) string {
	if j.brief {
		return ""
	}
	return of.String()
}

// note adds a note once.
func (j *job) note(text string) {
	if !slices.Contains(j.notes, text) {
		j.notes = append(j.notes, text)
	}
}

// pace sets passes, speed and gas: the shop's own numbers, else those on file
// for the thinner member.
func (j *job) pace(params *filler.Params, process config.Process, family config.Family) {
	own := j.settings.Practice(process)
	params.PassArea, params.PassAreaSource = own.PassArea, papers(j, own.PassSource)
	params.GasFlow, params.GasFlowSource = own.Flow, papers(j, own.FlowSource)
	j.pacing = pacing{rate: own.RateSource, speed: own.SpeedSource, flow: own.FlowSource}
	if own.Rate > 0 {
		params.DepositionRate, params.DepositionRateSource = own.Rate, papers(j, own.RateSource)
	}
	if own.Speed > 0 {
		params.TravelSpeed, params.TravelSpeedSource = own.Speed, papers(j, own.SpeedSource)
		return
	}
	if family == "" {
		for _, f := range j.families() {
			if f != "" {
				family = config.Family(f)
				break
			}
		}
	}
	s := &j.doc.Section
	if row, ok := config.SpeedFor(process, family, s.Members[s.ThinnerMember()].Thickness); ok {
		params.TravelSpeed, params.TravelSpeedSource = row.Speed, papers(j, row.Source)
		j.pacing.speed = row.Source
	}
}

// pacing is where the numbers behind arc time and gas come from.
type pacing struct{ rate, speed, flow config.Source }

// remembered tells whether arc time and gas rest on values from memory.
func (j *job) remembered(used *filler.Filler) (out [2]bool) {
	time := used.DepositionRateKgPerH != nil && j.pacing.rate.Provenance == config.Memory ||
		used.TravelSpeedMMPerMin != nil && j.pacing.speed.Provenance == config.Memory
	return [2]bool{time && used.ArcTimeMin != nil, (time || j.pacing.flow.Provenance == config.Memory) && used.GasM3PerSeam != nil}
}

// sold sets the packs: those with a price, else the one the shop buys, else
// the usual one.
func (j *job) sold(params *filler.Params, metal config.Filler) {
	if metal.Name == "" {
		return
	}
	var diameter geometry.Length
	switch {
	case params.Rod != nil:
		diameter = params.Rod.Diameter
	case params.Wire != nil:
		diameter = params.Wire.Diameter
	}
	mass := func(kg float64) string {
		if j.bare == geometry.UnitInch {
			return significant(kg/kgPerPound) + " lb"
		}
		return significant(kg) + " kg"
	}
	for _, p := range j.settings.PricesOf(metal.Name, diameter) {
		params.Packs = append(params.Packs, filler.Pack{Label: mass(p.Pack) + " pack", Mass: p.Pack, Price: p.Amount, Source: p.Source.String()})
	}
	kg := j.settings.Filler.Pack
	if len(params.Packs) > 0 {
		j.prefer(params, kg, mass)
		return
	}
	if kg > 0 {
		params.Packs = []filler.Pack{{Label: mass(kg) + " pack", Mass: kg, Source: "shop settings [shop]"}}
		return
	}
	usual := config.UsualPack(metal.Family, params.Wire != nil, j.bare)
	params.Packs = []filler.Pack{{Label: usual.Label, Mass: usual.Mass, Source: usual.Source.String()}}
}

// prefer keeps the pack that the shop says it buys, and says so where that one
// has no price and others are taken for it.
func (j *job) prefer(params *filler.Params, kg float64, mass func(float64) string) {
	if kg == 0 {
		return
	}
	for _, p := range params.Packs {
		if math.Abs(p.Mass-kg) < samePack*kg {
			params.Packs = []filler.Pack{p}
			return
		}
	}
	j.note("filler.pack = " + mass(kg) + " has no price of this filler: reckoned with the packs that have one; give its price under prices")
}

// samePack is how far two packs of one size lie apart as they are written in kg
// and in lb, as a fraction.
const samePack = 1e-3

// consumable sets the efficiency of the process and the rod or wire it melts.
func (j *job) consumable(params *filler.Params, process config.Process) {
	params.Efficiency = 1
	stubs := false
	if e, ok := config.DefaultEfficiency(process); ok {
		params.Efficiency, params.EfficiencySource, stubs = e.Value, papers(j, e)+": "+papers(j, e.Source), e.IncludesStub
	}
	if own := j.settings.Practice(process); own.OwnEfficiency > 0 {
		params.Efficiency, params.EfficiencySource, stubs = own.OwnEfficiency, papers(j, own.EfficiencySource), false
	}
	given, preset := &j.doc.Filler, &j.settings.Filler
	diameter, length, stub := preset.Rod(j.bare)
	diameter = pick(given.Diameter, diameter)
	switch process {
	case config.GTAW, config.SMAW:
		rod := &filler.Rod{
			Diameter: diameter, CutLength: pick(given.Length, length),
			Stub: pick(given.Stub, stub), StubFusedOn: preset.StubFused,
		}
		if given.StubFused != nil {
			rod.StubFusedOn = *given.StubFused
		}
		if stubs {
			rod.Stub = 0 // the efficiency counts it already
			j.note("the efficiency of " + string(process) + " counts thrown-away stubs already")
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
