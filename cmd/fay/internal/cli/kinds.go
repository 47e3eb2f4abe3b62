package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
	"fay/joints/result"
	"fay/render"
	"fay/render/pdf"
	"fay/render/sheet"
)

// kindsOptions are what `fay kinds` is told.
type kindsOptions struct {
	kind       string // empty for all
	format     string
	output, to string
}

func (a *app) kinds() *cobra.Command {
	var o kindsOptions
	cmd := &cobra.Command{
		Use:   "kinds [KIND]",
		Short: "List the kinds of joint with everything they take",
		Long: `kinds lists the kinds of joint with their members and welds, and every parameter
with its default, its limits, the range that is usual in a shop, and when it
applies. Sizes are in mm, angles in degrees. With -o it draws a small picture of
one kind's example.`,
		Example: "  fay kinds\n  fay kinds tee --format md\n  fay kinds tee -o tee.svg",
		Args:    cobra.ArbitraryArgs,
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return kindNames(), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usage("`fay kinds` takes one kind, but was given "+args[1]+" too", "name one, or none for all")
			}
			if len(args) > 0 {
				o.kind = args[0]
			}
			return a.runKinds(&o)
		},
	}
	formatFlag(cmd, &o.format)
	cmd.Flags().StringVarP(&o.output, "output", "o", "", "`file` to draw the kind's example to, its ending picks the format; - for the standard output")
	cmd.Flags().StringVar(&o.to, "to", "", "format of the picture where the output has no ending: "+strings.Join(drawings, ", "))
	// The flag was defined on the line above.
	_ = cmd.RegisterFlagCompletionFunc("to", cobra.FixedCompletions(drawings, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

// kindsResult is the JSON of `fay kinds`.
type kindsResult struct {
	Schema string      `json:"schema"`
	Kinds  []kindEntry `json:"kinds"`
}

// kindEntry is a kind in JSON.
type kindEntry struct {
	Kind       string        `json:"kind"`
	Title      string        `json:"title"`
	Doc        string        `json:"doc"`
	Members    []memberEntry `json:"members"`
	Parameters []paramEntry  `json:"parameters"`
	Welds      []weldEntry   `json:"welds"`
	Example    string        `json:"example"`
}

type memberEntry struct {
	Name string `json:"name"`
	Doc  string `json:"doc"`
}

type weldEntry struct {
	ID         string       `json:"id"`
	Doc        string       `json:"doc"`
	Parameters []paramEntry `json:"parameters"`
}

// paramEntry is a parameter in JSON; bounds are in its unit.
type paramEntry struct {
	Name    string      `json:"name"`
	Type    string      `json:"type"`
	Default string      `json:"default,omitempty"`
	Needed  bool        `json:"needed"`
	OneOf   []string    `json:"one_of,omitzero"` // the group that it is one of
	Unit    joints.Unit `json:"unit,omitempty"`
	Limits  *boundEntry `json:"limits,omitempty"`
	Usual   *boundEntry `json:"usual,omitempty"`
	Choices []string    `json:"choices,omitzero"`
	With    *withEntry  `json:"with,omitempty"`
	FitUp   bool        `json:"fit_up"`
	Doc     string      `json:"doc"`

	without []string // the values of With's choice that do not make it apply
}

type boundEntry struct {
	Min float64 `json:"min"`
	Max float64 `json:"max"`
}

// withEntry says that a parameter applies where a choice has one of the values.
type withEntry struct {
	Choice string   `json:"choice"`
	Values []string `json:"values"`
}

func newKindEntry(k *joints.Kind) kindEntry {
	e := kindEntry{Kind: k.Name, Title: k.Title, Doc: k.Doc, Example: k.Example, Members: []memberEntry{}, Welds: []weldEntry{}}
	for _, m := range k.Members {
		e.Members = append(e.Members, memberEntry(m))
	}
	e.Parameters = paramEntries(k.Params)
	for i := range k.Welds {
		w := &k.Welds[i]
		e.Welds = append(e.Welds, weldEntry{ID: w.ID, Doc: w.Doc, Parameters: paramEntries(w.Params)})
	}
	return e
}

func paramEntries(params []joints.Param) []paramEntry {
	out := make([]paramEntry, 0, len(params))
	for i := range params {
		p := &params[i]
		e := paramEntry{Name: p.Name, Default: p.Default, Needed: p.Needed, Choices: p.Choices, FitUp: p.FitUp, Doc: p.Doc}
		switch p.Type {
		case joints.ParamLength:
			e.Type, e.Unit = "length", joints.UnitMM
		case joints.ParamLengths:
			e.Type, e.Unit = "length, or two", joints.UnitMM
		case joints.ParamAngle:
			e.Type, e.Unit = "angle", joints.UnitDegree
		case joints.ParamAngles:
			e.Type, e.Unit = "angle, or two", joints.UnitDegree
		case joints.ParamNumber:
			e.Type, e.Unit = "number", joints.UnitRatio
		case joints.ParamChoice:
			e.Type = "choice"
		case joints.ParamFlag:
			e.Type = "yes or no"
		}
		e.Limits, e.Usual = bounds(p.Limits, e.Unit), bounds(p.Usual, e.Unit)
		if p.With != nil {
			e.With = &withEntry{p.With.Choice, p.With.Values}
			for j := range params {
				if params[j].Name == p.With.Choice {
					e.without = slices.DeleteFunc(slices.Clone(params[j].Choices), p.With.Holds)
				}
			}
		}
		if p.Group != "" {
			for j := range params {
				if params[j].Group == p.Group {
					e.OneOf = append(e.OneOf, params[j].Name)
				}
			}
		}
		out = append(out, e)
	}
	return out
}

// bounds are a range in the unit a person writes; nil for none.
func bounds(r joints.Range, unit joints.Unit) *boundEntry {
	if r == (joints.Range{}) || unit == "" {
		return nil
	}
	if unit == joints.UnitDegree {
		r.Min, r.Max = geometry.Angle(r.Min).Degrees(), geometry.Angle(r.Max).Degrees()
	}
	return &boundEntry{r.Min, r.Max}
}

func (a *app) runKinds(o *kindsOptions) error {
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	var kinds []*joints.Kind
	if o.kind != "" {
		k, err := kindNamed(o.kind)
		if err != nil {
			return err
		}
		kinds = append(kinds, k)
	} else {
		for i := range joints.Kinds {
			kinds = append(kinds, &joints.Kinds[i])
		}
	}
	if o.output != "" || o.to != "" {
		return a.drawKind(o)
	}
	res := kindsResult{Schema: "fay.kinds/1", Kinds: make([]kindEntry, 0, len(kinds))}
	for _, k := range kinds {
		res.Kinds = append(res.Kinds, newKindEntry(k))
	}
	var out bytes.Buffer
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, res)
	case asCSV:
		err = kindsCSV(&out, res.Kinds)
	default:
		if o.kind == "" {
			overview(&out, form, res.Kinds)
		}
		for i := range res.Kinds {
			res.Kinds[i].print(&out, form)
		}
	}
	if err != nil {
		return err
	}
	return a.print(bytes.TrimLeft(out.Bytes(), "\n"))
}

func overview(w *bytes.Buffer, f format, kinds []kindEntry) {
	t := table{heads: []string{"kind", "members", "welds", "what it is", "example"}}
	for i := range kinds {
		e := &kinds[i]
		t.add(e.Kind, strings.Join(e.memberNames(), ", "), strings.Join(e.weldNames(), ", "), e.Doc, e.Example)
	}
	t.in(f, w)
}

func (e *kindEntry) memberNames() []string {
	names := make([]string, len(e.Members))
	for i := range e.Members {
		names[i] = e.Members[i].Name
	}
	return names
}

func (e *kindEntry) weldNames() []string {
	names := make([]string, len(e.Welds))
	for i := range e.Welds {
		names[i] = e.Welds[i].ID
	}
	return names
}

// print details a kind for people.
func (e *kindEntry) print(w *bytes.Buffer, f format) {
	heading(w, f, e.Kind+": "+e.Title)
	printf(w, "%s\n", e.Doc)
	blank := ""
	if f == asMD {
		blank = "\n"
		printf(w, "\nExample: `%s`\n\n", e.Example)
	} else {
		printf(w, "Example: %s\n", e.Example)
	}
	for _, m := range e.Members {
		if f == asMD {
			printf(w, "- %s: thickness and material of the %s\n", m.Name, m.Doc)
		} else {
			printf(w, "  %s: thickness and material of the %s\n", m.Name, m.Doc)
		}
	}
	if len(e.Parameters) > 0 {
		printf(w, "%s", blank)
		paramTable(e.Parameters).in(f, w)
	}
	// Most kinds have the same parameters on every side.
	for i := 0; i < len(e.Welds); {
		n := i + 1
		for n < len(e.Welds) && slices.EqualFunc(e.Welds[i].Parameters, e.Welds[n].Parameters, sameParam) {
			n++
		}
		printf(w, "\n")
		for _, weld := range e.Welds[i:n] {
			if f == asMD {
				printf(w, "- weld %s: %s\n", weld.ID, weld.Doc)
			} else {
				printf(w, "weld %s: %s\n", weld.ID, weld.Doc)
			}
		}
		printf(w, "%s", blank)
		paramTable(e.Welds[i].Parameters).in(f, w)
		i = n
	}
}

func sameParam(a, b paramEntry) bool {
	return a.Name == b.Name && a.Doc == b.Doc && a.Default == b.Default && a.limits() == b.limits() && a.usual() == b.usual() && a.applies() == b.applies()
}

func paramTable(params []paramEntry) *table {
	t := &table{heads: []string{"parameter", "default", "limits", "usual", "applies", "what it is"}}
	for i := range params {
		p := &params[i]
		t.add(p.Name, p.preset(), p.limits(), p.usual(), p.applies(), p.Doc)
	}
	return t
}

// preset is the default, or that there is none.
func (p *paramEntry) preset() string {
	switch {
	case p.Needed && len(p.OneOf) > 0:
		return "one is needed"
	case p.Needed:
		return "needed"
	}
	return p.Default
}

func (p *paramEntry) limits() string {
	if len(p.Choices) > 0 {
		return strings.Join(p.Choices, ", ")
	}
	if p.Limits == nil {
		return p.Type
	}
	return p.Limits.text(p.Unit)
}

func (p *paramEntry) usual() string {
	if p.Usual == nil {
		return ""
	}
	return p.Usual.text(p.Unit)
}

func (b *boundEntry) text(unit joints.Unit) string {
	suffix := map[joints.Unit]string{joints.UnitMM: " mm", joints.UnitDegree: "°"}[unit]
	return decimal(b.Min, 2) + " to " + decimal(b.Max, 2) + suffix
}

func (p *paramEntry) applies() string {
	var out []string
	if p.With != nil {
		text := p.With.text()
		if n := len(p.without); n > 0 && n < len(p.With.Values) {
			text = p.With.Choice + " not " + strings.Join(p.without, ", ")
		}
		out = append(out, text)
	}
	if len(p.OneOf) > 1 {
		others := slices.DeleteFunc(slices.Clone(p.OneOf), func(name string) bool { return name == p.Name })
		out = append(out, "without "+strings.Join(others, ", "))
	}
	return strings.Join(out, "; ")
}

func (w *withEntry) text() string { return w.Choice + "=" + strings.Join(w.Values, "|") }

// kindsCSV prints one row a parameter.
func kindsCSV(w *bytes.Buffer, kinds []kindEntry) error {
	t := table{heads: []string{
		"kind", "weld", "parameter", "type", "unit", "default", "needed", "min", "max", "usual_min", "usual_max", "choices", "with", "one_of", "fit_up", "doc",
	}}
	yes := map[bool]string{true: "yes", false: "no"}
	for i := range kinds {
		e := &kinds[i]
		add := func(weld string, params []paramEntry) {
			for j := range params {
				p := &params[j]
				with, limits, usual := "", [2]string{}, [2]string{}
				if p.With != nil {
					with = p.With.text()
				}
				for to, b := range map[*[2]string]*boundEntry{&limits: p.Limits, &usual: p.Usual} {
					if b != nil {
						*to = [2]string{plain(&b.Min), plain(&b.Max)}
					}
				}
				t.add(e.Kind, weld, p.Name, p.Type, string(p.Unit), p.Default, yes[p.Needed], limits[0], limits[1], usual[0], usual[1],
					strings.Join(p.Choices, "|"), with, strings.Join(p.OneOf, "|"), yes[p.FitUp], p.Doc)
			}
		}
		add("", e.Parameters)
		for j := range e.Welds {
			add(e.Welds[j].ID, e.Welds[j].Parameters)
		}
	}
	return t.csv(w)
}

// The largest picture of a kind, mm, and its dots per inch.
const (
	pictureWide = 170
	pictureHigh = 120
	pictureDPI  = 150
)

// drawKind draws the example of a kind, dimensioned, without a sheet.
func (a *app) drawKind(o *kindsOptions) error {
	kind, ok := joints.LookupKind(o.kind)
	if !ok {
		return usage("which kind to draw is not said", "name one, such as: fay kinds "+joints.Kinds[0].Name+" -o "+joints.Kinds[0].Name+".svg")
	}
	format, err := drawingFormat(o.output, o.to)
	if err != nil {
		return err
	}
	loaded, err := a.load()
	if err != nil {
		return err
	}
	args := strings.Fields(kind.Example)
	doc, err := jointfile.Read(jointfile.Source{Kind: args[0], Assignments: args[1:]})
	if err != nil {
		return fmt.Errorf("example of %s: %w", kind.Name, err)
	}
	drawing, _, err := sheet.Figure(&doc.Section, draftingSizes(&loaded.Settings, loaded.Settings.PrintUnit(loaded.Settings.Units)), pictureWide, pictureHigh)
	if err != nil {
		return fmt.Errorf("example of %s: %w", kind.Name, err)
	}
	drawing.Title, drawing.Description = kind.Title, kind.Doc+": "+kind.Example
	data, err := encodePages([]*render.Drawing{drawing}, format, pictureDPI, pdf.Info{Title: drawing.Title, Subject: "kind of joint"})
	if err != nil {
		return err
	}
	return a.hand(o.output, data)
}
