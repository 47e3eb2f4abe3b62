package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/jointfile"
)

// job is a joint as a command got it, with the settings it was read under.
type job struct {
	doc       jointfile.Document
	settings  *config.Settings
	catalogue config.Catalogue
	path      string        // of the joint file; empty for a one-liner or a stream
	bare      geometry.Unit // of numbers without one; the document's is that of printed sizes
	metals    []string      // families of the members' metals, empty where not known
	notes     []string
	rules     []string        // documents named on the command line
	pacing    pacing          // of the filler
	brief     bool            // findings go without their steps, numbers without their sources
	room      []check.Finding // memory for findings; nil takes new
}

// joint reads the joint that the arguments describe: a file, - for the
// standard input, or a kind, and assignments behind it.
func (a *app) joint(args []string) (*job, error) {
	if len(args) == 0 {
		return nil, usage("no joint given", "name a joint file, - for the standard input, or a kind, such as: "+joints.Kinds[0].Example)
	}
	loaded, err := a.load()
	if err != nil {
		return nil, err
	}
	src, path, err := a.source(args[0])
	if err != nil {
		return nil, err
	}
	src.Assignments, src.First = args[1:], 2
	return readJob(&loaded.Settings, &src, path)
}

// source finds what the first argument names: - for the standard input, a
// kind, or a file, whose path is returned.
func (a *app) source(head string) (src jointfile.Source, path string, err error) {
	switch _, known := joints.LookupKind(head); {
	case head == "-":
		src.Name = "standard input"
		src.Data, err = io.ReadAll(io.LimitReader(a.env.Stdin, jointfile.MaxBytes+1))
		if err != nil {
			return src, "", fmt.Errorf("read the standard input: %w", err)
		}
	case known:
		src.Kind = head
	default:
		path, src.Name = head, head
		if src.Data, err = readJointFile(head); err != nil {
			return src, "", err
		}
	}
	return src, path, nil
}

// readJob reads and builds a joint under settings.
func readJob(settings *config.Settings, src *jointfile.Source, path string) (*job, error) {
	j := &job{settings: settings, catalogue: settings.Catalogue(), path: path}
	src.Units, src.FamilyOf = settings.Units, j.gauges
	var err error
	if j.doc, err = jointfile.Read(*src); err != nil {
		return nil, err
	}
	j.printed()
	j.materials()
	return j, nil
}

// printed settles the unit that sizes are printed in, which need not be that
// they were read in.
func (j *job) printed() {
	j.bare = j.doc.Units
	j.doc.Units = j.settings.PrintUnit(j.bare)
}

// converted tells whether sizes are printed in the other unit than the joint's.
func (j *job) converted() bool {
	return (j.doc.Units == geometry.UnitInch) != (j.bare == geometry.UnitInch)
}

// gauges gives the sheet gauges of a material; none where it is not on file.
func (j *job) gauges(material string) geometry.GaugeFamily {
	m, err := j.catalogue.Material(material)
	if err != nil {
		return geometry.NoGauge
	}
	return m.Family.Gauge()
}

// materials finds the materials of the members and notes those that are not on
// file. The section does not need them, so that they stop nothing.
func (j *job) materials() {
	j.metals = make([]string, len(j.doc.Section.Members))
	for i := range j.doc.Section.Members {
		m := &j.doc.Section.Members[i]
		if m.Material == "" {
			continue
		}
		found, err := j.catalogue.Material(m.Material)
		if err != nil {
			j.notes = append(j.notes, m.Name+": "+err.Error())
		}
		j.metals[i] = string(found.Family)
	}
}

// families are the metal families of the members, empty where not known.
func (j *job) families() []string { return j.metals }

// readJointFile reads a file up to the limit and one byte, which tells the
// reader that it is too large.
func readJointFile(path string) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	defer func() { _ = file.Close() }() // read only: nothing can be lost
	if info, err := file.Stat(); err == nil && info.IsDir() {
		return nil, usage(path+": is a folder", "name a joint file")
	}
	data, err := io.ReadAll(io.LimitReader(file, jointfile.MaxBytes+1))
	if err != nil {
		return nil, unreadable(path, err)
	}
	return data, nil
}

func unreadable(path string, err error) error {
	if errors.Is(err, fs.ErrNotExist) && !strings.ContainsAny(path, "./\\") {
		names := kindNames()
		hint := "the kinds are " + strings.Join(names, ", ") + "; a file is named with its ending, such as foot.yaml"
		if near := joints.Nearest(path, names); near != "" && len(path) < 20 {
			hint = "did you mean " + near + "? " + hint
		}
		return usage(fmt.Sprintf("%q is neither a kind of joint nor a file", path), hint)
	}
	if pathErr, ok := errors.AsType[*fs.PathError](err); ok {
		err = pathErr.Err
	}
	return usage(path+": cannot be read: "+err.Error(), "check the name and its permissions; `fay new` prints a joint file to start from")
}

func kindNames() []string {
	names := make([]string, len(joints.Kinds))
	for i := range joints.Kinds {
		names[i] = joints.Kinds[i].Name
	}
	return names
}

// completeJoint completes a kind or a file name, then the names of the kind.
func completeJoint(_ *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return kindNames(), cobra.ShellCompDirectiveDefault
	}
	kind, ok := joints.LookupKind(args[0])
	if !ok {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var out []string
	for _, name := range jointfile.Names(kind) {
		if strings.HasPrefix(name, word) {
			out = append(out, name+"=")
		}
	}
	return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
}
