package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/jointfile"
	"fay/joints/result"
)

// checkOptions are what `fay check` is told.
type checkOptions struct {
	args    []string
	format  string
	silence []string
	rules   []string
}

func (a *app) check() *cobra.Command {
	var o checkOptions
	cmd := &cobra.Command{
		Use:   "check FILE|KIND|- [name=value …]",
		Short: "Check a joint against published rules",
		Long: `check computes the section of a joint and compares it with rule documents: those
named with --rules, else those the joint names under checks, else those of your
settings, else aisc-360-16, aws-d1.1-reported and iso-5817-2014/C. fay rules lists
every document on file.

Exit code 3 when a check is not met. A rule whose values are from memory, marked
so, never fails a joint by itself.`,
		Example: `  fay check tee base=8 stem=3 leg=3 gap=0.3
  fay check lap lower=6 upper=4 overlap=30 leg=3 --format md
  fay check tee base=10 stem=6 leg=4 --rules en-1993-1-8/recommended,iso-5817-2014/B`,
		ValidArgsFunction: completeJoint,
		RunE: func(_ *cobra.Command, args []string) error {
			o.args = args
			return a.runCheck(&o)
		},
	}
	formatFlag(cmd, &o.format)
	cmd.Flags().StringSliceVar(&o.rules, "rules", nil, "rule `documents` to check against, instead of those chosen in the joint or your settings")
	cmd.Flags().StringSliceVar(&o.silence, "silence", nil, "rule `ids` whose warnings are left out; failures stay")
	return cmd
}

func (a *app) runCheck(o *checkOptions) error {
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	if err := knownRules(o.silence); err != nil {
		return err
	}
	j, err := a.joint(o.args)
	if err != nil {
		return err
	}
	j.rules = o.rules
	findings, err := j.findings()
	if err != nil {
		return err
	}
	findings = check.Silence(findings, o.silence)
	var out bytes.Buffer
	res := result.New(result.Parts{Section: &j.doc.Section, Seams: j.doc.Seams, Totals: j.doc.Runs, Digest: j.doc.Digest, Findings: findings, Notes: j.allNotes()})
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, res)
	case asCSV:
		err = findingsCSV(&out, findings)
	default:
		j.printCheck(&out, form, &res)
	}
	if err != nil {
		return err
	}
	if err := a.print(out.Bytes()); err != nil {
		return err
	}
	if check.Failed(findings) {
		return errNotMet
	}
	return nil
}

// print sends data to the standard output.
func (a *app) print(data []byte) error {
	if _, err := a.env.Stdout.Write(data); err != nil {
		return fmt.Errorf("write to the standard output: %w", err)
	}
	return nil
}

func knownRules(ids []string) error {
	known := documents.RuleIDs()
	for _, id := range ids {
		found := false
		for _, k := range known {
			found = found || k == id
		}
		if !found {
			hint := "the ids are in the output of check"
			if near := joints.Nearest(id, known); near != "" && len(id) < 60 {
				hint = "did you mean " + near + "?"
			}
			return usage(fmt.Sprintf("--silence %q: is not the id of a rule", id), hint)
		}
	}
	return nil
}

// documents are the ids of the rule documents to check against.
func (j *job) documents() []string {
	if len(j.rules) > 0 {
		return j.rules
	}
	if len(j.doc.Checks) > 0 {
		return j.doc.Checks
	}
	if len(j.settings.Checks) > 0 {
		return j.settings.Checks
	}
	return documents.Default()
}

func (j *job) findings() ([]check.Finding, error) {
	findings, err := documents.Append(j.room, j.facts(), j.documents())
	if err != nil {
		return nil, j.placed(err, nil)
	}
	if len(j.settings.Limits) == 0 {
		return findings, nil
	}
	shop, err := j.shopDocument()
	if err != nil {
		return nil, err
	}
	return append(findings, check.Run(j.facts(), []check.Document{shop})...), nil
}

// shopDocument makes a document of the limits in the settings.
func (j *job) shopDocument() (check.Document, error) {
	limits := make([]check.ShopLimit, 0, len(j.settings.Limits))
	for _, l := range j.settings.Limits {
		limit := check.ShopLimit{Of: l.Of, Base: l.Base, Factor: l.Factor, Size: check.Size(l.Size), Most: l.Most, Note: l.Note}
		if l.AtLeast {
			limit.Operator = check.AtLeast
		}
		limits = append(limits, limit)
	}
	shop, err := check.ShopDocument(limits)
	if faults := joints.AsFaults(err); len(faults) > 0 {
		return shop, usage("settings: "+faults.Error(), "mend the list limits in your settings; `fay settings` shows where it comes from")
	}
	return shop, err
}

// legRanges are the legs that satisfy every chosen document, for each fillet.
func (j *job) legRanges() []check.LegRange {
	chosen, err := documents.Select(j.documents())
	if err != nil {
		return nil
	}
	return check.Legs(j.facts(), chosen)
}

// facts is what rules are told of the joint besides its section.
func (j *job) facts() *check.Facts {
	facts := &check.Facts{Section: &j.doc.Section, Families: j.families(), Units: j.bare, Converted: j.converted(), Brief: j.brief}
	if named := j.doc.Filler.Process; named != "" {
		if p, err := config.ParseProcess(named); err == nil {
			facts.Process = string(p)
		}
	}
	// Rules on length ask for long runs: of several seams the shortest counts.
	facts.Round = len(j.doc.Seams) > 0
	for i := range j.doc.Seams {
		seam := &j.doc.Seams[i]
		length := seam.Length
		if seam.Around > 0 {
			length = math.Pi * seam.Around
		} else {
			facts.Round = false
		}
		run := length
		if seam.Segment > 0 {
			run = seam.Segment
		}
		facts.SeamLength, facts.EffectiveLength = shorter(facts.SeamLength, length), shorter(facts.EffectiveLength, run)
	}
	return facts
}

func shorter(known joints.Opt, l geometry.Length) joints.Opt {
	if known.Present && known.Value <= l {
		return known
	}
	return joints.Some(l)
}

// placed gives faults found after reading their place in the input; names maps
// fields of a package to names of the joint file.
func (j *job) placed(err error, names map[string]string) error {
	var plain joints.Faults
	if !errors.As(err, &plain) {
		return err
	}
	faults := make(jointfile.Faults, 0, len(plain))
	for _, f := range plain {
		if name, ok := names[f.Field]; ok {
			f.Field = name
		}
		faults = append(faults, j.doc.Refuse(f))
	}
	return faults
}

func (j *job) allNotes() []string { return append(append([]string{}, j.doc.Notes...), j.notes...) }

// printCheck prints the findings for people.
func (j *job) printCheck(w *bytes.Buffer, f format, res *result.Result) {
	q := j.quantities()
	j.printJoint(w, f, q)
	heading(w, f, "Checks: "+strings.Join(j.documents(), ", "))
	t := table{heads: []string{"verdict", "rule", "weld", "provided", "", "required", "ratio", "values"}}
	silent := 0
	for i := range res.Findings {
		d := &res.Findings[i]
		if d.Verdict == check.NotApplicable {
			silent++
			continue
		}
		cells := []string{string(d.Verdict), d.Rule, d.Weld, "", "", "", "", string(d.Provenance)}
		if d.Provided != nil && d.Required != nil {
			cells[3], cells[4], cells[5] = q.value(*d.Provided, d.Unit), string(d.Operator), q.value(*d.Required, d.Unit)
		}
		if d.Ratio != nil {
			cells[6] = decimal(*d.Ratio, 2)
		}
		t.add(cells...)
	}
	t.in(f, w)
	if silent > 0 {
		printf(w, "\n%d more do not apply to this joint.\n", silent)
	}
	if ranges := j.legRanges(); len(ranges) > 0 {
		heading(w, f, "Legs")
		for i := range ranges {
			printLegs(w, f, &ranges[i])
		}
	}
	for i := range res.Findings {
		printFinding(w, f, &res.Findings[i])
	}
	tail(w, f, append(remarks(res.Findings), res.Notes...), res.Cautions)
}

// printLegs says which legs the chosen documents leave, and the ways out where
// they leave none.
func printLegs(w *bytes.Buffer, f format, r *check.LegRange) {
	bullet := ""
	if f == asMD {
		bullet = "- "
	}
	printf(w, "%s%s weld: %s\n", bullet, r.Weld, r.Sentence)
	for _, way := range r.WaysOut {
		printf(w, "  %s%s\n", map[bool]string{true: "- ", false: "way out: "}[f == asMD], way)
	}
}

// remarks are the notes of findings that could be compared, each once: such as
// that a document is written for another metal.
func remarks(findings []check.Finding) []string {
	var out []string
	for i := range findings {
		f := &findings[i]
		if f.Verdict != check.Met || f.Note == "" {
			continue
		}
		for note := range strings.SplitSeq(f.Note, "; ") {
			if !slices.Contains(out, note) {
				out = append(out, note)
			}
		}
	}
	return out
}

// printFinding tells what is wrong with a finding that is not met, or why
// nothing can be told.
func printFinding(w *bytes.Buffer, f format, d *check.Finding) {
	if d.Verdict != check.NotMet && d.Verdict != check.CannotTell {
		return
	}
	title := string(d.Verdict) + ": " + d.Title
	if d.Weld != "" {
		title += " (" + d.Weld + " weld)"
	}
	bullet := "  "
	if f == asMD {
		bullet = "- "
		printf(w, "\n**%s**\n\n", title)
	} else {
		printf(w, "\n%s\n", title)
	}
	for _, s := range d.Steps {
		printf(w, "%s%s → %s → %s\n", bullet, s.Symbols, s.Numbers, s.Result)
	}
	if d.Mend != "" {
		printf(w, "%sto mend: %s\n", bullet, d.Mend)
	}
	if d.Note != "" {
		printf(w, "%snote: %s\n", bullet, d.Note)
	}
	printf(w, "%ssource: %s [%s]\n", bullet, sourceText(d.Source), d.Provenance)
}

func sourceText(s check.Source) string {
	text := s.Document
	if s.Edition != "" {
		text += ", " + s.Edition
	}
	if s.Clause != "" {
		text += ", " + s.Clause
	}
	return text
}

// findingsCSV prints findings for spreadsheets, in the units of the model.
func findingsCSV(w io.Writer, findings []check.Finding) error {
	t := table{heads: []string{
		"verdict", "rule", "title", "weld", "provided", "operator", "required", "unit", "ratio", "provenance", "mend", "source", "note",
	}}
	for i := range findings {
		d := &findings[i]
		t.add(string(d.Verdict), d.Rule, d.Title, d.Weld, plain(d.Provided), string(d.Operator), plain(d.Required), string(d.Unit),
			plain(d.Ratio), string(d.Provenance), d.Mend, sourceText(d.Source), d.Note)
	}
	return t.csv(w)
}

// plain prints a number for a program, or nothing where there is none.
func plain(v *float64) string {
	if v == nil {
		return ""
	}
	return decimal(result.Round(*v), 6)
}
