package cli

import (
	"os"
	"strings"

	"github.com/spf13/cobra"

	"fay/joints"
	"fay/joints/jobfile"
	"fay/joints/jointfile"
	"fay/joints/macro"
)

// What `fay new` starts besides joints.
const (
	newRecord = "record"
	newJob    = "job"
)

// newOptions are what `fay new` is told.
type newOptions struct {
	kind   string
	output string
}

func (a *app) newJoint() *cobra.Command {
	var o newOptions
	cmd := &cobra.Command{
		Use:   "new [KIND|record|job]",
		Short: "Print a commented joint file, record or job to start from",
		Long: `new prints a joint file of a kind with every name that it may hold, explained.
It works as it stands. Without a kind it starts a tee. ` + "`fay new record`" + ` prints a
record of a cut sample for ` + "`fay macro`" + `, ` + "`fay new job`" + ` a job file for ` + "`fay job`" + `.`,
		Example: "  fay new tee\n  fay new lap -o gangway.yaml\n  fay new record\n  fay new job",
		Args:    cobra.ArbitraryArgs,
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return append(kindNames(), newRecord, newJob), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			o.kind = joints.Kinds[0].Name
			if len(args) > 1 {
				return usage("`fay new` takes one kind, but was given "+args[1]+" too", "change the values in the file it prints")
			}
			if len(args) > 0 {
				o.kind = args[0]
			}
			return a.runNew(&o)
		},
	}
	cmd.Flags().StringVarP(&o.output, "output", "o", "", "`file` to write; one that exists is never overwritten")
	return cmd
}

func (a *app) runNew(o *newOptions) error {
	var text []byte
	switch o.kind {
	case newRecord:
		text = []byte(macro.Starter)
	case newJob:
		text = []byte(jobfile.Starter)
	default:
		kind, err := kindNamed(o.kind)
		if err != nil {
			return err
		}
		text = []byte(jointfile.Starter(kind))
	}
	if o.output == "" || o.output == "-" {
		return a.print(text)
	}
	return a.writeNew(o.output, text)
}

// writeNew writes a file to begin with, and none that is there already.
func (a *app) writeNew(path string, text []byte) error {
	if _, err := os.Lstat(path); err == nil {
		return usage(path+": exists already; nothing was written", "choose another name, or remove the file first")
	}
	if err := writeFile(path, text); err != nil {
		return err
	}
	a.talkf("fay: wrote %s\n", path)
	return nil
}

// kindNamed finds a kind of joint, or says which one may be meant.
func kindNamed(name string) (*joints.Kind, error) {
	kind, ok := joints.LookupKind(name)
	if ok {
		return kind, nil
	}
	hint := "the kinds are " + strings.Join(kindNames(), ", ")
	if near := joints.Nearest(name, kindNames()); near != "" && len(name) < 20 {
		hint = "did you mean " + near + "? " + hint
	}
	return nil, usage(name+": is not a kind of joint on file", hint)
}
