// Package cli is the command line of fay: one file per command, each an
// options struct and a run function that needs no process to be tested.
//
// Data goes to the standard output, talk to the standard error, `-` is a
// stream. Exit codes: 0 done, 1 unexpected, 2 the input is wrong, 3 computed
// but a check is not met.
package cli

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"fay/config"
	"fay/joints"
	"fay/joints/check/documents"
)

// The exit codes.
const (
	exitDone       = 0
	exitUnexpected = 1
	exitInput      = 2
	exitNotMet     = 3
)

// Env is what a command sees of the world.
type Env struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
	Environ        []string // NAME=value
	ConfigDir      string   // folder of the user's settings; empty: the system's
}

// Process is the environment of the running process.
func Process() Env {
	return Env{Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, Environ: os.Environ()}
}

// app is one run of the program.
type app struct {
	env Env
	// Flags that every command takes.
	config, units, printed, sheet, orientation, language, style, symbols string
	dual, noTint                                                         bool
	// overrides are settings that flags of a command give.
	overrides []config.Override
}

// Main runs a command line and returns its exit code.
func Main(args []string, env Env) (code int) {
	defer func() {
		if r := recover(); r != nil {
			_, _ = fmt.Fprintf(env.Stderr, "fay: unexpected: %v\n  hint: this is a mistake in fay, not in your input; nothing was written\n", r)
			code = exitUnexpected
		}
	}()
	a := &app{env: env}
	root := a.root()
	root.SetArgs(args)
	err := root.Execute()
	if err == nil {
		return exitDone
	}
	return a.report(err)
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "fay",
		Short: "Plan and prove welded joints between plates of unequal thickness",
		Long: `fay computes the section of a welded joint from one line of text or a joint
file: legs, throats, areas, rule checks, filler metal, and a dimensioned drawing.

It computes geometry and published rules. It does not prove strength: the local
code and licensed practice decide.

Exit codes: 0 done, 1 unexpected, 2 the input is wrong, 3 a check is not met.`,
		Example: `  fay check tee base=8 stem=3 leg=3 gap=0.3
  fay new tee
  fay settings`,
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
	}
	// Before the completion command is made, which takes its output from here.
	root.SetIn(a.env.Stdin)
	root.SetOut(a.env.Stdout)
	root.SetErr(a.env.Stderr)
	flags := root.PersistentFlags()
	flags.StringVar(&a.config, "config", "", "settings `file` to read instead of your own")
	flags.StringVar(&a.units, "units", "", "unit of bare numbers and of printed sizes where the joint names none: mm or in")
	flags.StringVar(&a.sheet, "sheet", "", "sheet of a drawing: A4, A3 or Letter")
	flags.StringVar(&a.language, "language", "", "words of the trade: iso or us")
	flags.StringVar(&a.printed, "printed", "", "unit of printed sizes alone: mm or in; auto is that of the joint")
	flags.StringVar(&a.orientation, "orientation", "", "how a sheet is held: auto, portrait or landscape")
	flags.StringVar(&a.style, "style", "", "lines and dimensions: iso or us; auto follows the language")
	flags.BoolVar(&a.dual, "dual", false, "letter dimensions in the other unit too, in brackets")
	flags.BoolVar(&a.noTint, "no-tint", false, "draw welds without their tint")
	flags.StringVar(&a.symbols, "symbols", "", "welding symbols: iso-2553-a, iso-2553-b or aws-a2.4; auto follows the style")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usage(err.Error(), "`"+cmd.CommandPath()+" --help` lists the flags")
	})
	root.AddCommand(a.draw(), a.gallery(), a.check(), a.filler(), a.compare(), a.fitup(), a.heat(), a.macro(), a.job(), a.newJoint(), a.materials(), a.fillers(), a.settings(), a.kinds(), a.rules(), a.schema(), a.version())
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		if c.Name() == "completion" {
			c.Example = "  fay completion bash"
			c.Args = cobra.ArbitraryArgs
			c.RunE = noShell
		}
	}
	return root
}

// noShell answers `fay completion` without a shell that it knows.
func noShell(cmd *cobra.Command, args []string) error {
	shells := make([]string, 0, len(cmd.Commands()))
	for _, c := range cmd.Commands() {
		shells = append(shells, c.Name())
	}
	hint := "the shells are " + strings.Join(shells, ", ")
	if len(args) == 0 {
		return usage("no shell named", hint)
	}
	return usage(fmt.Sprintf("%q is not a shell that can be completed in", args[0]), hint)
}

func unknownCommand(root *cobra.Command, name string) error {
	var names []string
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() {
			names = append(names, c.Name())
		}
	}
	hint := "the commands are " + strings.Join(names, ", ")
	if near := joints.Nearest(name, names); near != "" && len(name) < 20 {
		hint = "did you mean " + near + "? " + hint
	}
	return usage(fmt.Sprintf("%q is not a command", name), hint)
}

// load reads the settings of all layers, the flags strongest, and tells what
// is odd about them.
func (a *app) load() (config.Loaded, error) {
	opts := config.Options{File: a.config, Dir: a.env.ConfigDir, Environ: a.env.Environ, Documents: documentNames()}
	for _, o := range [...]struct{ key, value string }{
		{"units", a.units}, {"printed", a.printed}, {"sheet", a.sheet}, {"orientation", a.orientation}, {"language", a.language}, {"style", a.style}, {"symbols", a.symbols},
	} {
		if o.value != "" {
			opts.Overrides = append(opts.Overrides, config.Override{Key: o.key, Value: o.value, Name: "--" + o.key})
		}
	}
	if a.dual {
		opts.Overrides = append(opts.Overrides, config.Override{Key: "dual", Value: "true", Name: "--dual"})
	}
	if a.noTint {
		opts.Overrides = append(opts.Overrides, config.Override{Key: "tint", Value: "false", Name: "--no-tint"})
	}
	opts.Overrides = append(opts.Overrides, a.overrides...)
	loaded, err := config.Load(opts)
	if err != nil {
		return config.Loaded{}, err
	}
	for _, w := range loaded.Warnings {
		a.talkf("fay: %s\n", w.Error())
	}
	return loaded, nil
}

// documentNames are the rule documents without their levels, as settings name
// them.
func documentNames() []string {
	var names []string
	for _, d := range documents.Known() {
		name, _, _ := strings.Cut(d.ID, "/")
		if len(names) == 0 || names[len(names)-1] != name {
			names = append(names, name)
		}
	}
	return names
}

// talkf writes to the standard error. A failure there has nowhere to go.
func (a *app) talkf(format string, args ...any) { _, _ = fmt.Fprintf(a.env.Stderr, format, args...) }

// errNotMet ends a run whose findings have told everything already.
var errNotMet = errors.New("a check is not met")
