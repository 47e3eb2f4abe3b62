package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fay/config"
	"fay/joints"
	"fay/joints/heat"
	"fay/joints/result"
)

// heatOptions are what `fay heat` is told.
type heatOptions struct {
	args       []string
	values     heatValues
	format     string
	field      bool
	sweep      string
	steps      int
	calibrate  string
	store      string
	output, to string
	dpi        float64
}

// heatValues are the values of arc and members as they were written, by name.
type heatValues map[string]string

// heatNames are the values that a flag or an assignment can give, besides
// those of a single member.
var heatNames = []struct{ name, doc string }{
	{"process", "`process` of the arc: tig, tig-ac, tig-dc, mig, mma, saw, plasma"},
	{"amps", "`current` set, A; what the root needs is told without it"},
	{"volts", "arc `voltage`; that of the usual load line when left out"},
	{"speed", "travel `speed`, such as 240mm/min, 4mm/s, 9in/min; a bare number is mm/min"},
	{"efficiency", "`part` of the arc's power that reaches the work: 0.6, 60%, or a range 0.5..0.7"},
	{"spot", "standard deviation of the heat laid down by the arc, a `length`; 1.5 mm when left out"},
	{"preheat", "`temperature` of both members before the arc, °C, or as 250F; 20 °C when left out"},
	{"aim", "where the arc points, `percent` of the face from the second member's toe to the first's, or balanced; 50 when left out"},
	{"faces", "how the faying `faces` touch: open, contact or bonded; open when left out"},
	{"conductance", "`conductance` of faces in contact, W/(m²·K); dry plates lie near 5000"},
	{"machine", "`machine` of the settings, or the most current it gives, A; that of the settings when left out"},
	{"calibrated", "`machine` whose calibration gives efficiency and spot"},
	{"material", "`metal` of members that name none"},
	{"weld", "`id` of the weld that is made, such as arrow; the first when left out"},
	{"done", "`ids` of welds laid before it, a comma apart"},
	{"wet", "`length` to be wetted on each member; the leg, at most the thinner plate, when left out"},
	{"power", "net `watts` in the work that the field is shown at; those of amps, else those that melt the root"},
	{"levels", "`temperatures` of more isotherms, °C, a comma apart"},
	{"detail", "`factor` on the fineness of the mesh, 0.3 to 4"},
}

// memberHeat are the values of one member: base.preheat=100.
var memberHeat = []string{"preheat", "free-edge", "mass"}

func (a *app) heat() *cobra.Command {
	var o heatOptions
	cmd := &cobra.Command{
		Use:   "heat FILE|KIND|- [name=value …]",
		Short: "Tell which member takes the heat, and what melts the root",
		Long: `heat tells which member takes the heat away and by how much, where to aim, what
power and current melt the root, and what preheat buys; then, from the conduction
in the section itself, between which powers the root is fused and no edge is lost.

The values of the arc are flags or assignments: amps=120 is --amps 120. Each member
may have its own base.preheat=100 (°C), base.free-edge=40 (distance from the joint
root to the plate's real edge; two with a comma) and base.mass=2.5 (kg).

With -o it draws the section with its isotherms, or the diagram of a --sweep, as
.svg, .pdf or .png. It is an estimate by conduction: run a test piece.`,
		Example: `  fay heat tee base=10 stem=5 leg=5 material=6082 speed=240mm/min machine=250
  fay heat lap lower=6 upper=3 overlap=30 leg=3 material=5083 amps=120 --format json
  fay heat tee base=10 stem=5 leg=5 material=S355 -o heat.svg
  fay heat tee base=10 stem=5 leg=5 material=6082 --sweep speed=150..350`,
		ValidArgsFunction: completeHeat,
		RunE: func(cmd *cobra.Command, args []string) error {
			var err error
			if o.args, o.values, err = splitHeat(cmd.Flags(), args); err != nil {
				return err
			}
			return a.runHeat(&o)
		},
	}
	formatFlag(cmd, &o.format)
	flags := cmd.Flags()
	for _, n := range heatNames {
		flags.String(n.name, "", n.doc)
	}
	flags.BoolVar(&o.field, "field", true, "solve the conduction in the section too, a tenth of a second; --field=false leaves it out")
	flags.StringVar(&o.sweep, "sweep", "", "`name=from..to` of power, speed, aim, thickness (of the first member) or a size of the joint, such as leg=3..6")
	flags.IntVar(&o.steps, "steps", 9, "`number` of rows of a sweep")
	flags.StringVar(&o.calibrate, "calibrate", "", "cut-and-etch `log` whose fusion depths the arc's efficiency and spot are fitted to")
	flags.StringVar(&o.store, "store", "", "`machine` of the settings file to keep the calibration for")
	flags.StringVarP(&o.output, "output", "o", "", "`file` to draw to, its ending picks the format; - for the standard output")
	flags.StringVar(&o.to, "to", "", "format of the drawing where the output has no ending: "+strings.Join(drawings, ", "))
	flags.Float64Var(&o.dpi, "dpi", 150, "dots per inch of a png")
	// The flags were defined on the lines above.
	_ = cmd.RegisterFlagCompletionFunc("to", cobra.FixedCompletions(drawings, cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.RegisterFlagCompletionFunc("faces", cobra.FixedCompletions([]string{"open", "contact", "bonded"}, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

// completeHeat completes the names of the joint and those of the arc.
func completeHeat(cmd *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	out, what := completeJoint(cmd, args, word)
	if len(args) == 0 {
		return out, what
	}
	for _, n := range heatNames {
		if strings.HasPrefix(n.name, word) {
			out = append(out, n.name+"=")
		}
	}
	return out, what
}

// isHeatName tells whether an assignment is one of the arc or of a member's
// heat, not of the joint.
func isHeatName(name string) bool {
	for _, n := range heatNames {
		if n.name == name {
			return true
		}
	}
	_, last, ok := strings.Cut(name, ".")
	return ok && slices.Contains(memberHeat, last)
}

// splitHeat takes the values of the heat out of arguments and flags.
func splitHeat(flags *pflag.FlagSet, args []string) ([]string, heatValues, error) {
	values := heatValues{}
	for _, n := range heatNames {
		if f := flags.Lookup(n.name); f.Changed {
			values[n.name] = strings.TrimSpace(f.Value.String())
		}
	}
	var rest []string
	for i, arg := range args {
		name, value, assigned := strings.Cut(arg, "=")
		if i == 0 || !assigned || !isHeatName(name) {
			rest = append(rest, arg)
			continue
		}
		if old, twice := values[name]; twice {
			return nil, nil, usage(fmt.Sprintf("%s=%s: %s is given twice, %s before", name, value, name, old), "give it once, as a flag or as an assignment")
		}
		values[name] = strings.TrimSpace(value)
	}
	for name, v := range values {
		if v == "" {
			return nil, nil, usage(name+": has no value", "write "+name+"=… or leave it out")
		}
	}
	return rest, values, nil
}

func (a *app) runHeat(o *heatOptions) error {
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	format := ""
	if o.output != "" {
		if format, err = drawingFormat(o.output, o.to); err != nil {
			return err
		}
	} else if o.to != "" {
		return usage("--to without an output", "add -o - for the standard output")
	}
	if err := checkDPI(o.dpi); err != nil {
		return err
	}
	j, err := a.joint(o.args)
	if err != nil {
		return err
	}
	if err := apartFrom(j.path, o.output); err != nil {
		return err
	}
	h, err := j.heating(o.values)
	if err != nil {
		return err
	}
	if o.calibrate != "" {
		if o.sweep != "" || o.output != "" {
			return usage("--calibrate prints numbers", "leave --sweep and -o out")
		}
		return a.runCalibrate(h, o, form)
	}
	if o.store != "" {
		return usage("--store "+o.store+": there is nothing to keep", "add --calibrate with a log of cut sections")
	}
	if o.sweep != "" {
		return a.runSweep(h, o, form, format)
	}
	if err := h.compute(o); err != nil {
		return err
	}
	if format != "" {
		if err := a.drawHeat(h, o, format); err != nil || o.output == "-" {
			return err
		}
	}
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, h.contract())
	case asCSV:
		err = h.csv(&out)
	default:
		h.print(&out, form)
	}
	if err != nil {
		return err
	}
	return a.print(out.Bytes())
}

// heating is a joint with its heat computed.
type heating struct {
	*job
	in     heat.Input
	params heat.FieldParams
	power  float64 // W net asked for; 0 for none
	levels []float64
	// balanced: the aim is to be looked for.
	balanced bool
	taken    []taken
	// calibration whose values are used; nil for those on file.
	calibration *config.Calibration
	answer      heat.Result
	field       *heat.Field // nil where it was not computed
	picture     heat.Picture
	aim         heat.Aim // that balances the toes
}

// taken is a value the answer rests on, and where it is from.
type taken struct{ name, value, from string }

// compute answers in closed form and in the section.
func (h *heating) compute(o *heatOptions) error {
	var err error
	if h.answer, err = heat.Answer(h.in); err != nil {
		return h.refused(err)
	}
	if !o.field && o.output == "" {
		return nil
	}
	return h.solve()
}

// solve computes the field, the aim that balances it and the picture.
func (h *heating) solve() error {
	var err error
	if h.field, err = heat.NewField(h.in, h.params); err != nil {
		return h.refused(err)
	}
	if h.aim, err = h.field.Balance(); err != nil {
		return h.refused(err)
	}
	if h.balanced {
		if !h.aim.Found {
			return usage("aim=balanced: no aim on the face melts both toes at the same power", "give the aim in percent")
		}
		h.params.AimShift = h.aim.Shift
		if h.field, err = heat.NewField(h.in, h.params); err != nil {
			return h.refused(err)
		}
	}
	power := h.power
	if power == 0 && h.answer.Given != nil {
		power = h.answer.Given.Net.Nominal
	}
	if power == 0 {
		power = h.field.RootPower()
	}
	if h.picture, err = h.field.At(power, h.pictureLevels()); err != nil {
		return h.refused(err)
	}
	return h.allMelts()
}

// allMelts refuses a power that leaves nothing to be welded: what melts runs
// to the end of the meshed plates.
func (h *heating) allMelts() error {
	lowest := h.lowestLiquidus()
	for i := range h.picture.Isotherms {
		iso := &h.picture.Isotherms[i]
		if iso.Beyond && iso.Level >= lowest {
			name, value := "power", h.power
			if value == 0 {
				name, value = "amps", h.in.Arc.Amps
			}
			return usage(fmt.Sprintf("%s=%s: %s W in the work melt whole plates, to beyond %d thicknesses from the weld", name, decimal(value, 1), decimal(h.picture.Power, 0), 6),
				fmt.Sprintf("the root of this joint melts from %s W in the work", decimal(h.field.RootPower(), 0)))
		}
	}
	return nil
}

// feet are the two members the weld stands on.
func (h *heating) feet() [2]int {
	w := h.weld()
	return [2]int{w.Feet[0].Member, w.Feet[1].Member}
}

func (h *heating) weld() *joints.Weld {
	if w, ok := h.doc.Section.Weld(h.in.Weld); ok {
		return w
	}
	return &h.doc.Section.Welds[0]
}

func (h *heating) metal(foot int) *heat.Material { return &h.in.Members[h.feet()[foot]].Material }

func (h *heating) lowestLiquidus() float64 {
	return min(h.metal(0).Liquidus, h.metal(1).Liquidus)
}

// pictureLevels are the isotherms shown: those of interest, those asked for,
// and a few between so that the picture reads.
func (h *heating) pictureLevels() []float64 {
	levels := append(h.field.Levels(), h.levels...)
	between := map[heat.Family][]float64{
		heat.Aluminium: {300, 400, 500}, heat.Steel: {300, 1100, 1300}, heat.Stainless: {500, 800, 1100, 1300},
		heat.Titanium: {600, 900, 1200, 1500}, heat.Copper: {300, 500, 700, 900},
	}
	for _, v := range between[h.metal(0).Family] {
		if v < h.metal(0).Solidus-40 {
			levels = append(levels, v)
		}
	}
	slices.Sort(levels)
	return slices.Compact(levels)
}
