package cli

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/fitup"
	"fay/joints/result"
)

// fitupOptions are what `fay fitup` is told.
type fitupOptions struct {
	args         []string
	format       string
	step, throat string
	weld         string
	samples      int
	seed         uint64
	output, to   string
	dpi          float64
}

func (a *app) fitup() *cobra.Command {
	var o fitupOptions
	cmd := &cobra.Command{
		Use:   "fitup FILE|KIND|- [name=value …]",
		Short: "Tell what the gap does to the weld",
		Long: `fitup lists gaps or root openings from 0 to the rule's end: the leg to lay so that
the effective throat is kept, the throat with the planned leg, and the filler that
comes on top. Legs to lay are rounded up to 0.5 mm or 1/16 in; json and csv also
hold them exactly.

Where values are toleranced it adds worst case, root sum of squares and the share
of joints short of the throat, from joints drawn evenly over the tolerances.

With -o it draws the throat against the gap instead, as .svg, .pdf or .png.`,
		Example: `  fay fitup tee base=8 stem=3 leg=4 gap=0.5±0.5
  fay fitup lap lower=6 upper=4 overlap=30 leg=4 --throat 2.5 --format json
  fay fitup tee base=8 stem=3 leg=4 gap=0.5±0.5 -o gap.svg`,
		ValidArgsFunction: completeJoint,
		RunE: func(_ *cobra.Command, args []string) error {
			o.args = args
			return a.runFitup(&o)
		},
	}
	formatFlag(cmd, &o.format)
	flags := cmd.Flags()
	flags.StringVar(&o.step, "step", "", "`length` between openings; 0.5 mm or 1/32 in when left out")
	flags.StringVar(&o.throat, "throat", "", "effective throat required, a `length`; that of the plan when left out")
	flags.StringVar(&o.weld, "weld", "", "`id` of the one weld to look at, such as arrow; all, and the weakest, when left out")
	flags.IntVar(&o.samples, "samples", 100_000, "`number` of joints drawn from the tolerances")
	flags.Uint64Var(&o.seed, "seed", 1, "`number` that the draw begins with; the same gives the same joints")
	flags.StringVarP(&o.output, "output", "o", "", "`file` to draw to, its ending picks the format; - for the standard output")
	flags.StringVar(&o.to, "to", "", "format of the drawing where the output has no ending: "+strings.Join(drawings, ", "))
	flags.Float64Var(&o.dpi, "dpi", 150, "dots per inch of a png")
	// The flag was defined on the lines above.
	_ = cmd.RegisterFlagCompletionFunc("to", cobra.FixedCompletions(drawings, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

// fitted is a joint with its fit-up computed.
type fitted struct {
	*job
	table    *fitup.Table
	analysis *fitup.Analysis // nil where nothing is toleranced
	findings []check.Finding
	limits   []gapLimit
	density  *float64 // g/cm³ of the filler; nil where none is known
	filler   string
}

// gapLimit is the largest gap that a rule takes with the legs as they are.
type gapLimit struct {
	Rule         string           `json:"rule"`
	Title        string           `json:"title"`
	Source       check.Source     `json:"source"`
	Provenance   check.Provenance `json:"provenance"`
	Weld         string           `json:"weld,omitempty"`
	LargestGapMM float64          `json:"largest_gap_mm"`
}

func (a *app) runFitup(o *fitupOptions) error {
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	if err := o.check(); err != nil {
		return err
	}
	j, err := a.joint(o.args)
	if err != nil {
		return err
	}
	f, err := j.fitup(o)
	if err != nil {
		return err
	}
	if o.output != "" {
		if err := a.drawFitup(f, o); err != nil || o.output == "-" {
			return err
		}
	}
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, f.result())
	case asCSV:
		err = f.csv(&out)
	default:
		f.print(&out, form)
	}
	if err != nil {
		return err
	}
	return a.print(out.Bytes())
}

// check refuses flags that no joint could make right.
func (o *fitupOptions) check() error {
	if o.samples < 1 || o.samples > fitup.MostSamples {
		return usage(fmt.Sprintf("--samples %d: must lie between 1 and %d", o.samples, fitup.MostSamples), "100000 is enough for a share to a few tenths of a percent")
	}
	if o.seed == 0 {
		return usage("--seed 0: seeds count from 1", "leave --seed out for 1")
	}
	if o.output == "" && o.to != "" {
		return usage("--to without an output", "add -o - for the standard output")
	}
	if o.output != "" {
		if _, err := drawingFormat(o.output, o.to); err != nil {
			return err
		}
	}
	return checkDPI(o.dpi)
}

func checkDPI(dpi float64) error {
	if !(dpi >= leastDPI && dpi <= mostDPI) {
		return usage(fmt.Sprintf("--dpi %g: must lie between %d and %d", dpi, leastDPI, mostDPI), "150 reads well on a screen, 300 on paper")
	}
	return nil
}

// flagLength reads a length of a flag in the units of the joint; empty is zero.
func (j *job) flagLength(flag, text string) (geometry.Length, error) {
	if text == "" {
		return 0, nil
	}
	l, err := geometry.ParseLength(text, geometry.LengthSyntax{Bare: j.bare})
	if parse, ok := errors.AsType[*geometry.ParseError](err); ok {
		return 0, usage(fmt.Sprintf("--%s %q: %s", flag, text, parse.Rule), parse.Remedy)
	}
	if err != nil {
		return 0, err
	}
	if !(l > 0) {
		return 0, usage(fmt.Sprintf("--%s %s: must be larger than zero", flag, text), "leave --"+flag+" out for the usual one")
	}
	return l, nil
}

// fitup computes table and analysis.
func (j *job) fitup(o *fitupOptions) (*fitted, error) {
	f := &fitted{job: j}
	step, err := j.flagLength("step", o.step)
	if err != nil {
		return nil, err
	}
	throat, err := j.flagLength("throat", o.throat)
	if err != nil {
		return nil, err
	}
	table, ok, err := fitup.NewTable(j.doc.Input, fitup.Spec{Units: j.doc.Units, Step: step, Weld: o.weld, Throat: throat})
	if err != nil {
		return nil, flagFaults(err)
	}
	if !ok {
		return nil, noOpening(j.doc.Section.Kind)
	}
	f.table = table
	analysis, ok, err := fitup.Analyse(j.doc.Input, fitup.Options{
		Require: fitup.Requirement{Weld: o.weld, Throat: throat}, Samples: o.samples, Seed: o.seed,
	})
	if err != nil {
		return nil, flagFaults(err)
	}
	if ok {
		f.analysis = &analysis
	}
	if f.findings, err = j.findings(); err != nil {
		return nil, err
	}
	f.gapLimits(o.weld)
	return f, f.weigh()
}

// noOpening refuses a joint that a fitter has nothing to open of.
func noOpening(kind string) error {
	return usage("a "+kind+" joint has neither a gap nor a root opening", "`fay kinds` lists the parameters of each kind")
}

// flagFaults names the flags that faults are about.
func flagFaults(err error) error {
	faults := joints.AsFaults(err)
	if faults == nil {
		return err
	}
	out := make(joints.Faults, len(faults))
	for i, f := range faults {
		f.Field = "--" + f.Field
		out[i] = f
	}
	return out
}

// gapLimits takes the gaps that rules end at out of the findings.
func (f *fitted) gapLimits(weld string) {
	if f.table.Parameter != "gap" {
		return // the rules on file that end a gap speak of fillets
	}
	for i := range f.findings {
		d := &f.findings[i]
		if d.LargestGap == nil || weld != "" && d.Weld != weld {
			continue
		}
		f.limits = append(f.limits, gapLimit{Rule: d.Rule, Title: d.Title, Source: d.Source, Provenance: d.Provenance,
			Weld: d.Weld, LargestGapMM: *d.LargestGap})
	}
}

// weigh finds the density of the filler, where one is named.
func (f *fitted) weigh() error {
	f.filler = f.fillerName()
	if f.filler == "" {
		return nil
	}
	used, err := f.job.filler()
	if err != nil {
		return err
	}
	f.density = used.DensityGPerCm3
	return nil
}

// grams is the extra deposit in g/m: a square millimetre over a metre is a
// cubic centimetre.
func (f *fitted) grams(area float64) *float64 {
	if f.density == nil {
		return nil
	}
	return new(area * *f.density)
}

func (f *fitted) parameter() string { return strings.ReplaceAll(f.table.Parameter, "-", " ") }

// evenly says how values are drawn.
const evenly = "values are drawn evenly over their tolerance, which assumes nothing of the shop"
