package cli

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"fay/joints"
)

// drawOptions are what `fay draw` is told.
type drawOptions struct {
	args   []string
	output string
	to     string
	dpi    float64
	page   int
}

// drawings are the formats of a drawing, by the ending of its file.
var drawings = []string{"svg", "pdf", "png"}

// Bounds of --dpi: a thumbnail, and what an A4 sheet can be held in memory at.
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
on a sheet for the bench. The ending of the output picks the format: .svg, .pdf
or .png. With -o - the drawing goes to the standard output in the format of --to.`,
		Example: `  fay draw tee base=8 stem=3 leg=3 gap=0.3 -o foot.pdf
  fay draw lap lower=6 upper=4 overlap=30 leg=4 -o - --to svg`,
		ValidArgsFunction: completeJoint,
		RunE: func(_ *cobra.Command, args []string) error {
			o.args = args
			return a.runDraw(&o)
		},
	}
	cmd.Flags().StringVarP(&o.output, "output", "o", "", "`file` to write, its ending picks the format; - for the standard output")
	cmd.Flags().StringVar(&o.to, "to", "", "format of the drawing where the output has no ending: "+strings.Join(drawings, ", "))
	cmd.Flags().IntVar(&o.page, "page", 0, "`number` of the one sheet to draw; 0 draws all to a pdf, the first to others")
	cmd.Flags().Float64Var(&o.dpi, "dpi", 150, "dots per inch of a png")
	// The flag was defined on the lines above.
	_ = cmd.RegisterFlagCompletionFunc("to", cobra.FixedCompletions(drawings, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

func (a *app) runDraw(o *drawOptions) error {
	format, err := drawingFormat(o.output, o.to)
	if err != nil {
		return err
	}
	if !(o.dpi >= leastDPI && o.dpi <= mostDPI) {
		return usage(fmt.Sprintf("--dpi %g: must lie between %d and %d", o.dpi, leastDPI, mostDPI), "150 reads well on a screen, 300 on paper")
	}
	if o.page < 0 {
		return usage(fmt.Sprintf("--page %d: sheets count from 1", o.page), "leave --page out for the first")
	}
	j, err := a.joint(o.args)
	if err != nil {
		return err
	}
	if err := apartFrom(j.path, o.output); err != nil {
		return err
	}
	data, sheets, err := j.drawing(format, o.dpi, o.page)
	if err != nil {
		return err
	}
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

// drawingFormat settles the format from the ending of the output and --to.
func drawingFormat(output, to string) (string, error) {
	list := strings.Join(drawings, ", ")
	known := func(name string) bool { return slices.Contains(drawings, name) }
	to = strings.ToLower(to)
	if to != "" && !known(to) {
		hint := "use one of " + list
		if near := joints.Nearest(to, drawings); near != "" && len(to) < 20 {
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
		return "", usage(output+": has no ending that picks a format", "end the name in ."+strings.Join(drawings, ", ."))
	}
	return "", usage(output+": a drawing cannot be written as ."+ending, "end the name in ."+strings.Join(drawings, ", ."))
}
