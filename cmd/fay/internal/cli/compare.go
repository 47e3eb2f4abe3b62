package cli

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"fay/geometry"
	"fay/joints"
	"fay/joints/compare"
	"fay/joints/result"
)

// compareOptions are what `fay compare` is told.
type compareOptions struct {
	args      []string
	format    string
	by        string
	reference string
	oneSide   bool
	noGouging bool
	torch     string
	edge      string
	most      string
	throat    string
	rootFace  string
	met       bool
	breakEven string
	output    string
	to        string
	dpi       float64
	page      int
}

func (a *app) compare() *cobra.Command {
	var o compareOptions
	cmd := &cobra.Command{
		Use:   "compare JOINT [name=value …] [vs … | sweep name=4..10 | preparations]",
		Short: "Compare alternatives of a joint",
		Long: `compare sets alternatives side by side: deposited area, filler, passes, arc time,
cost, distortion estimates and findings not met, ranked, each compared with a
reference, which is the first one unless you name another. What meets all checks
ranks before what does not, and only such a one is called best.

  fay compare a.yaml b.yaml              joint files
  fay compare a.yaml vs leg=4 vs leg=5   changes to the first one, after vs
  fay compare tee … vs lap …             other joints, after vs
  … as light                             gives the alternative before it a name
  fay compare tee … sweep leg=4..10      a range, both ends taken; step=0.5 or
                                         4..10/0.5 sets the step; 4,5,6 is a list
  fay compare butt … preparations        every preparation on file that suits the
                                         thickness, the metal and the process

In a sweep t=… and with --break-even t=… the letter t stands for the value in
any assignment: stem=t leg=0.75t.

What breaks a constraint stays in the table, last, with the reason: the least
metal is no joint where the throat asked for is not there, so give --throat.

Where no weld is described, preparations are filled flush; closed square edges
hold no metal then, so that all get the usual cap, unless cap=… says otherwise.

Cost is filler, gas and paid time at your own prices, INCOMPLETE where one of them
has none; with --prepare, --turn and
--gouge, or the settings of work, the time to prepare edges, to turn the part and
to gouge counts too. Without them a preparation costs nothing and break-evens are
of metal alone.`,
		Example: `  fay compare tee base=20 stem=10 leg=4 vs leg=6
  fay compare tee base=20 stem=10 sweep leg=4..10/2 --most 0.2
  fay compare butt left=12 right=12 preparations --throat 12mm --root-face 2mm
  fay compare tee base=20 stem=t leg=0.75t sides=both as fillet vs leg=0.45t prep=double-bevel bevel-angle=45 depth=0.3t other-depth=0.3t as groove --prepare 8 --by labour --break-even t=5..20 -o break-even.svg`,
		PreRun: func(cmd *cobra.Command, _ []string) { a.allowances(cmd.Flags()) },
		RunE: func(_ *cobra.Command, args []string) error {
			o.args = args
			return a.runCompare(&o)
		},
	}
	formatFlag(cmd, &o.format)
	allowanceFlags(cmd)
	f := cmd.Flags()
	f.StringVar(&o.by, "by", "", "`metric` to rank by: "+compare.MetricNames()+"; cost where there are prices, else mass, else area")
	f.StringVar(&o.reference, "reference", "", "`name` of the alternative the others are compared with")
	f.BoolVar(&o.oneSide, "one-side", false, "no weld on the other side")
	f.BoolVar(&o.noGouging, "no-back-gouging", false, "no second side that must be gouged to sound metal")
	f.StringVar(&o.torch, "torch-angle", "", "least `angle` the torch has at the root")
	f.StringVar(&o.edge, "edge", "", "least `length` a weld leaves of an edge")
	f.StringVar(&o.most, "most", "", "most filler consumed, in `kg` per metre")
	f.StringVar(&o.throat, "throat", "", "least effective throat as a `length`, of the welds of both sides together")
	f.StringVar(&o.rootFace, "root-face", "", "most edge as a `length` that a full weld may leave unprepared at its root")
	f.BoolVar(&o.met, "met", false, "no finding not met")
	f.StringVar(&o.breakEven, "break-even", "", "`name=lo..hi`: find where one of two alternatives becomes the cheaper")
	f.StringVarP(&o.output, "output", "o", "", "`file` to draw to, its ending picks the format; - for the standard output")
	f.StringVar(&o.to, "to", "", "format of the drawing where the output has no ending: "+strings.Join(drawings, ", "))
	f.Float64Var(&o.dpi, "dpi", 150, "dots per inch of a png")
	f.IntVar(&o.page, "page", 0, "`number` of the one sheet to draw; 0 draws all to a pdf, the first to others")
	return cmd
}

func (a *app) runCompare(o *compareOptions) error {
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	drawing := ""
	if o.output != "" {
		if drawing, err = o.drawingFormat(); err != nil {
			return err
		}
	}
	loaded, err := a.load()
	if err != nil {
		return err
	}
	set, err := a.alternatives(&loaded.Settings, o)
	if err != nil {
		return err
	}
	request, err := set.request(o)
	if err != nil {
		return err
	}
	if o.breakEven != "" {
		return a.runBreakEven(o, form, drawing, set, &request)
	}
	if err := set.build(&request); err != nil {
		return err
	}
	c, err := compare.New(request)
	if err != nil {
		return err
	}
	if err := known(&c); err != nil {
		return err
	}
	if drawing != "" {
		data, sheets, err := set.draw(&c, drawing, o.dpi, o.page)
		if err != nil {
			return err
		}
		if err := a.deliver(o, data, sheets, drawing); err != nil || o.output == "-" {
			return err
		}
	}
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, set.result(&c))
	case asCSV:
		err = compareCSV(&out, &c)
	default:
		set.print(&out, form, &c)
	}
	if err != nil {
		return err
	}
	return a.print(out.Bytes())
}

// drawingFormat settles the format of the drawing and checks its options.
func (o *compareOptions) drawingFormat() (string, error) {
	if !(o.dpi >= leastDPI && o.dpi <= mostDPI) {
		return "", usage(fmt.Sprintf("--dpi %g: must lie between %d and %d", o.dpi, leastDPI, mostDPI), "150 reads well on a screen, 300 on paper")
	}
	if o.page < 0 {
		return "", usage(fmt.Sprintf("--page %d: sheets count from 1", o.page), "leave --page out for the first")
	}
	return drawingFormat(o.output, o.to)
}

// deliver writes a drawing where it was asked for.
func (a *app) deliver(o *compareOptions, data []byte, sheets int, format string) error {
	if o.output == "-" {
		return a.print(data)
	}
	if err := writeFile(o.output, data); err != nil {
		return err
	}
	if sheets > 1 && o.page == 0 && format != "pdf" {
		a.talkf("fay: wrote %s, sheet 1 of %d\n  hint: --page 2 draws the next; a pdf holds them all\n", o.output, sheets)
		return nil
	}
	a.talkf("fay: wrote %s\n", o.output)
	return nil
}

// request reads the constraints and what to rank by.
func (s *set) request(o *compareOptions) (compare.Request, error) {
	r := compare.Request{Reference: o.reference, By: compare.Metric(o.by)}
	c := &r.Constraints
	c.OneSide, c.NoBackGouging, c.AllMet = o.oneSide, o.noGouging, o.met
	if o.by != "" && !slices.Contains(compare.Metrics(), r.By) {
		hint := "use one of " + compare.MetricNames()
		if near := joints.Nearest(o.by, strings.Split(compare.MetricNames(), ", ")); near != "" && len(o.by) < 20 {
			hint = "did you mean " + near + "? " + hint
		}
		return r, usage(fmt.Sprintf("--by %q: is not something alternatives are ranked by", o.by), hint)
	}
	if o.torch != "" {
		angle, err := geometry.ParseAngle(o.torch)
		if err != nil || !(angle > 0 && angle.Degrees() <= 180) {
			return r, usage(fmt.Sprintf("--torch-angle %q: is not an angle from 0° to 180°", o.torch), "write --torch-angle 45")
		}
		c.TorchAngle = angle
	}
	for _, l := range []struct {
		flag, text, example string
		to                  *geometry.Length
	}{
		{"--edge", o.edge, "1.5mm", &c.EdgeAllowance}, {"--throat", o.throat, "5mm", &c.LeastThroat}, {"--root-face", o.rootFace, "2mm", &c.MostRootFace},
	} {
		if l.text == "" {
			continue
		}
		v, err := geometry.ParseLength(l.text, geometry.LengthSyntax{Bare: s.settings.Units})
		if err != nil || !(v > 0 && v < geometry.Metre) {
			return r, usage(fmt.Sprintf("%s %q: is not a length from 0 to 1000 mm", l.flag, l.text), "write "+l.flag+" "+l.example)
		}
		*l.to = v
	}
	if o.most != "" {
		most, err := strconv.ParseFloat(o.most, 64)
		if err != nil || !(most > 0 && most < 1e6) {
			return r, usage(fmt.Sprintf("--most %q: is not a mass above zero", o.most), "write --most 0.25, in kg per metre")
		}
		c.MostKgPerM = most
	}
	return r, nil
}

// build makes every alternative and settles what to rank by.
func (s *set) build(r *compare.Request) error {
	for i := range s.list {
		alt := &s.list[i]
		option := compare.Option{Name: alt.name, Note: alt.note}
		j, err := s.job(alt, math.NaN())
		switch {
		case err != nil && alt.lenient && unfit(err):
			option.Fault = unfitReason(err)
		case err != nil:
			return err
		default:
			if err := s.fill(&option, j, alt.lenient); err != nil {
				return err
			}
		}
		r.Options = append(r.Options, option)
	}
	if r.By == "" {
		r.By = s.by(r.Options)
	}
	if r.Reference == "" {
		// The first that can be made.
		for i := range r.Options {
			if r.Options[i].Section != nil {
				r.Reference = r.Options[i].Name
				break
			}
		}
	}
	return nil
}

// fill takes filler, findings and heat of an alternative that is made.
func (s *set) fill(option *compare.Option, j *job, lenient bool) error {
	used, err := j.fillerPlain()
	switch {
	case err != nil && lenient && unfit(err):
		option.Fault = unfitReason(err)
		return nil
	case err != nil:
		return err
	}
	findings, err := j.findings()
	if err != nil {
		return err
	}
	option.Section, option.Filler, option.Findings = &j.doc.Section, &used, findings
	s.rootArc(option, j)
	s.took(j)
	return j.suits(option)
}

// by is what alternatives are ranked by where nothing is said: the firmest
// thing that is known of all of them, and whole.
func (s *set) by(options []compare.Option) compare.Metric {
	by := compare.Cost
	for i := range options {
		f := options[i].Filler
		switch {
		case f == nil:
		case f.ConsumedKgPerM == nil:
			return compare.Area
		case f.Cost == nil, len(f.Cost.NotPriced) > 0:
			by = compare.Mass
		}
	}
	return by
}

// compareResult is the JSON of `fay compare`.
type compareResult struct {
	Schema       string     `json:"schema"`
	Alternatives []named    `json:"alternatives"`
	Sweep        *sweepJSON `json:"sweep,omitempty"`
	compare.Comparison
	ArcShare  float64        `json:"arc_share,omitempty"` // of paid time, behind labour
	Left      []string       `json:"left_out,omitzero"`   // preparations that the kind does not take
	BreakEven *breakEvenJSON `json:"break_even,omitempty"`
	Notes     []string       `json:"notes,omitzero"`
	Cautions  []string       `json:"cautions"`
}

// named is an alternative as it was described.
type named struct {
	Name        string   `json:"name"`
	Joint       string   `json:"joint"` // kind or file
	Assignments []string `json:"assignments"`
}

type sweepJSON struct {
	Name   string   `json:"name"`
	Values []string `json:"values"`
}

const compareForm = "fay.compare/1"

func (s *set) result(c *compare.Comparison) compareResult {
	shown := *c
	shown.Rows = slices.Clone(c.Rows)
	for i := range shown.Rows {
		shown.Rows[i].Section = nil // drawn, not printed
	}
	r := compareResult{Schema: compareForm, Comparison: shown, ArcShare: s.settings.Costs.ArcShare, Alternatives: s.named(), Left: s.left, Cautions: s.cautions(c)}
	if s.sweep != nil {
		r.Sweep = &sweepJSON{s.sweep.Name, s.sweep.Texts}
	}
	if len(s.notes) > 0 {
		r.Notes = s.notes
	}
	return r
}

func (s *set) named() []named {
	out := make([]named, len(s.list))
	for i := range s.list {
		out[i] = named{s.list[i].name, s.list[i].head, append([]string{}, s.list[i].assignments...)}
	}
	return out
}
