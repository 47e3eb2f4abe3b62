package cli

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"fay/joints"
	"fay/render"
	"fay/render/sheet"
)

// drawOptions are what `fay draw` is told.
type drawOptions struct {
	args   []string
	output string
	to     string
	dpi    float64
	page   int
	// What is drawn instead of the traveler; one of them at most.
	figure, template, together bool
	explode                    bool
}

// drawings are the formats every drawing can be written in, by the ending of
// its file; the section of a joint has others besides.
var (
	drawings    = []string{"svg", "pdf", "png"}
	drawFormats = []string{"svg", "pdf", "png", "dxf", "txt", "json"}
)

// Bounds of --dpi: a thumbnail, and what an A3 sheet can be held in memory at.
const (
	leastDPI = 36
	mostDPI  = 600
)

func (a *app) draw() *cobra.Command {
	var o drawOptions
	cmd := &cobra.Command{
		Use:   "draw FILE|KIND|- [name=value …] -o OUTPUT",
		Short: "Draw the section of a joint on a traveler sheet",
		Long: `draw computes the section of a joint and draws it, dimensioned and true to scale,
on a sheet for the bench. The ending of the output picks the format: .svg, .pdf,
.png, .dxf (the section alone, at full size), .txt (the section in characters)
or .json (the list of strokes, fills and texts). With -o - the drawing goes to
the standard output in the format of --to.

--figure draws the section without a sheet, --template a gauge of the weld at
full size to cut out of paper, --together the sections of several joints side by
side; it takes files and kinds instead of assignments.`,
		Example: `  fay draw tee base=8 stem=3 leg=3 gap=0.3 -o foot.pdf
  fay draw lap lower=6 upper=4 overlap=30 leg=4 --to text
  fay draw tee base=8 stem=3 leg=3 --figure -o foot.svg
  fay draw tee base=8 stem=3 leg=3 --template -o gauge.pdf
  fay draw tee lap butt --together -o all.pdf`,
		ValidArgsFunction: completeJoint,
		RunE: func(_ *cobra.Command, args []string) error {
			o.args = args
			return a.runDraw(&o)
		},
	}
	flags := cmd.Flags()
	flags.StringVarP(&o.output, "output", "o", "", "`file` to write, its ending picks the format; - for the standard output")
	flags.StringVar(&o.to, "to", "", "format of the drawing where the output has no ending: "+strings.Join(drawFormats, ", ")+"; text prints the section here")
	flags.IntVar(&o.page, "page", 0, "`number` of the one sheet to draw; 0 draws all to a pdf or json, the first to others")
	flags.Float64Var(&o.dpi, "dpi", 150, "dots per inch of a png")
	flags.BoolVar(&o.figure, "figure", false, "the section alone on a page of its own size, without the traveler")
	flags.BoolVar(&o.template, "template", false, "a gauge of each weld at full size, to cut out")
	flags.BoolVar(&o.together, "together", false, "the sections of all joints named, side by side")
	flags.BoolVar(&o.explode, "explode", false, "print every stroke, fill and text of the sheets as JSON")
	// The flag was defined on the lines above.
	_ = cmd.RegisterFlagCompletionFunc("to", cobra.FixedCompletions(drawFormats, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

// settle finds the format and fills in what a format implies.
func (o *drawOptions) settle() (format string, err error) {
	if o.explode {
		if o.to != "" && o.to != "json" {
			return "", usage("--explode prints JSON, --to says "+o.to, "leave one of them out")
		}
		o.to = "json"
	}
	if strings.EqualFold(o.to, "text") {
		o.to = "txt"
	}
	if o.output == "" && (o.to == "txt" || o.to == "json") {
		o.output = "-" // made to be read
	}
	if format, err = formatOf(drawFormats, o.output, o.to); err != nil {
		return "", err
	}
	if !(o.dpi >= leastDPI && o.dpi <= mostDPI) {
		return "", usage(fmt.Sprintf("--dpi %g: must lie between %d and %d", o.dpi, leastDPI, mostDPI), "150 reads well on a screen, 300 on paper")
	}
	if o.page < 0 {
		return "", usage(fmt.Sprintf("--page %d: sheets count from 1", o.page), "leave --page out for the first")
	}
	var chosen []string
	for _, f := range [...]struct {
		on   bool
		name string
	}{{o.figure, "--figure"}, {o.template, "--template"}, {o.together, "--together"}} {
		if f.on {
			chosen = append(chosen, f.name)
		}
	}
	if len(chosen) > 1 {
		return "", usage(strings.Join(chosen, " and ")+" ask for different drawings", "give one of them")
	}
	return format, nil
}

func (a *app) runDraw(o *drawOptions) error {
	format, err := o.settle()
	if err != nil {
		return err
	}
	jobs, err := a.drawJobs(o)
	if err != nil {
		return err
	}
	for _, j := range jobs {
		if err := apartFrom(j.path, o.output); err != nil {
			return err
		}
	}
	if format == "txt" {
		data, err := a.sketches(jobs, o.output == "-")
		if err != nil {
			return err
		}
		return a.hand(o.output, data)
	}
	pages, err := a.pages(o, jobs)
	if err != nil {
		return err
	}
	var data bytes.Buffer
	if err := jobs[0].encode(&data, pages, format, o.dpi, o.page); err != nil {
		return err
	}
	a.warnLettering(undrawn(pages))
	if err := a.hand(o.output, data.Bytes()); err != nil {
		return err
	}
	if len(pages) > 1 && o.page == 0 && format != "pdf" && format != "json" && o.output != "-" {
		a.talkf("  this is sheet 1 of %d\n  hint: --page 2 draws the next; a pdf holds them all\n", len(pages))
	}
	return nil
}

// hand gives a drawing to the file or the standard output.
func (a *app) hand(output string, data []byte) error {
	if output == "-" {
		return a.print(data)
	}
	if err := writeFile(output, data); err != nil {
		return err
	}
	a.talkf("fay: wrote %s\n", output)
	return nil
}

// mostTogether bounds the joints on sheets for comparing.
const mostTogether = 500

// drawJobs reads the joint, or all of them.
func (a *app) drawJobs(o *drawOptions) ([]*job, error) {
	if !o.together {
		j, err := a.joint(o.args)
		if err != nil {
			return nil, err
		}
		return []*job{j}, nil
	}
	switch {
	case len(o.args) == 0:
		return nil, usage("no joints given", "name joint files")
	case len(o.args) > mostTogether:
		return nil, usage(fmt.Sprintf("%d joints are named, more than %d", len(o.args), mostTogether), "draw them in several runs")
	}
	var jobs []*job
	var faults []error
	for _, arg := range o.args {
		if name, _, assigned := strings.Cut(arg, "="); assigned {
			return nil, usage("--together takes joint files, but was given the value "+arg, "write "+name+" in the files")
		}
		args := []string{arg}
		// A kind stands for its example.
		if kind, ok := joints.LookupKind(arg); ok {
			args = strings.Fields(kind.Example)
		}
		j, err := a.joint(args)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		jobs = append(jobs, j)
	}
	if len(faults) > 0 {
		return nil, faults[0]
	}
	return jobs, nil
}

// The largest page of a figure without a sheet, mm.
const (
	figureWide = 190
	figureHigh = 250
)

// pages lays out what was asked for.
func (a *app) pages(o *drawOptions, jobs []*job) ([]*render.Drawing, error) {
	j := jobs[0]
	options := j.sheetOptions()
	switch {
	case o.figure:
		d, unplaced, err := sheet.Figure(&j.doc.Section, options, figureWide, figureHigh)
		if err != nil {
			return nil, fmt.Errorf("draw the section: %w", err)
		}
		for i := range unplaced {
			m := &unplaced[i]
			a.talkf("fay: no room for %s %s; `fay check` lists it\n", strings.TrimSpace(m.Weld+" "+m.Member+" "+m.Name), j.quantities().value(m.Value, m.Unit))
		}
		return []*render.Drawing{d}, nil
	case o.template:
		d, err := sheet.Gauge(j.heading(), options)
		if large, ok := errors.AsType[*sheet.TooLargeError](err); ok {
			return nil, usage(fmt.Sprintf("the gauge of weld %s is %.0f × %.0f mm and does not fit the sheet at full size", large.Weld, large.Width, large.Height), "draw it on --sheet A3, or write a .dxf with --figure")
		}
		if err != nil {
			return nil, fmt.Errorf("draw the gauge: %w", err)
		}
		return []*render.Drawing{d}, nil
	case o.together:
		works := make([]sheet.Job, len(jobs))
		for i := range jobs {
			var err error
			if works[i], err = jobs[i].work(); err != nil {
				return nil, err
			}
		}
		pages, err := sheet.Together(works, options)
		if err != nil {
			return nil, fmt.Errorf("draw the sections: %w", err)
		}
		return pages, nil
	}
	work, err := j.work()
	if err != nil {
		return nil, err
	}
	pages, err := sheet.Compose(work, options)
	if err != nil {
		return nil, fmt.Errorf("compose the sheet: %w", err)
	}
	return pages, nil
}

// drawingFormat settles the format of a drawing from the ending of the output
// and --to.
func drawingFormat(output, to string) (string, error) { return formatOf(drawings, output, to) }

// formatOf settles a format out of a list.
func formatOf(formats []string, output, to string) (string, error) {
	list := strings.Join(formats, ", ")
	known := func(name string) bool { return slices.Contains(formats, name) }
	to = strings.ToLower(to)
	if to != "" && !known(to) {
		hint := "use one of " + list
		if near := joints.Nearest(to, formats); near != "" && len(to) < 20 {
			hint = "did you mean " + near + "? " + hint
		}
		return "", usage(fmt.Sprintf("--to %q: is not a format of drawings", to), hint)
	}
	switch output {
	case "":
		return "", usage("no output named", "write -o foot.pdf, or -o - --to svg for the standard output")
	case "-":
		if to == "" {
			return "", usage("the standard output has no ending that picks a format", "add --to with one of "+list)
		}
		return to, nil
	}
	ending := strings.ToLower(strings.TrimPrefix(filepath.Ext(output), "."))
	switch {
	case known(ending) && (to == "" || to == ending):
		return ending, nil
	case known(ending):
		return "", usage(output+": its ending says "+ending+", --to says "+to, "leave --to out, or name the file ."+to)
	case to != "":
		return to, nil
	case ending == "":
		return "", usage(output+": has no ending that picks a format", "end the name in ."+strings.Join(formats, ", ."))
	}
	return "", usage(output+": a drawing cannot be written as ."+ending, "end the name in ."+strings.Join(formats, ", ."))
}
