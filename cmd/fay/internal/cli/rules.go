package cli

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"fay/joints"
	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/joints/result"
)

// rulesOptions are what `fay rules` is told.
type rulesOptions struct {
	args   []string
	format string
}

func (a *app) rules() *cobra.Command {
	var o rulesOptions
	cmd := &cobra.Command{
		Use:   "rules [DOCUMENT|RULE]",
		Short: "List the rule documents, or explain one rule",
		Long: `rules lists the rule documents with their clauses and says how far the values of
each can be trusted: primary (read in the document or an extract), secondary (read
in a report of it) or memory (unverified; such a rule never fails a joint).

With the id of a document it prints the values of its rules; with the id of a rule
it explains it: what is compared, the values, where they were read, an example.`,
		Example:           "  fay rules\n  fay rules aisc-360-16\n  fay rules iso-5817-2014/C/503",
		ValidArgsFunction: completeRule,
		RunE: func(_ *cobra.Command, args []string) error {
			o.args = args
			return a.runRules(&o)
		},
	}
	formatFlag(cmd, &o.format)
	return cmd
}

func completeRule(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	var ids []string
	for _, d := range documents.List() {
		ids = append(ids, d.ID)
		for i := range d.Rules {
			ids = append(ids, d.Rules[i].ID)
		}
	}
	return ids, cobra.ShellCompDirectiveNoFileComp
}

// rulesResult is the JSON of `fay rules`, of all documents or of one.
type rulesResult struct {
	Schema    string            `json:"schema"`
	Documents []documents.Entry `json:"documents"`
}

// ruleResult is the JSON of `fay rules RULE`.
type ruleResult struct {
	Schema string `json:"schema"`
	documents.Explanation
}

func (a *app) runRules(o *rulesOptions) error {
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	if len(o.args) > 1 {
		return usage("`fay rules` takes one id, but was given "+strings.Join(o.args, " "), "give the id of a document or of a rule")
	}
	var out bytes.Buffer
	list := documents.List()
	if len(o.args) == 0 {
		err = listRules(&out, form, list)
	} else {
		err = oneRule(&out, form, list, strings.TrimSpace(o.args[0]))
	}
	if err != nil {
		return err
	}
	return a.print(out.Bytes())
}

// listRules prints every document with its rules, one a line.
func listRules(w *bytes.Buffer, f format, list []documents.Entry) error {
	if f == asJSON {
		return result.WriteJSON(w, rulesResult{Schema: "fay.rules/1", Documents: list})
	}
	if f == asCSV {
		return valuesCSV(w, list)
	}
	if f == asMD {
		printf(w, "# Rules\n")
	}
	for i := range list {
		d := &list[i]
		text := d.ID + ": " + d.Title
		if len(d.Scope) > 0 {
			text += ", for " + strings.Join(d.Scope, ", ")
		}
		if d.Default {
			text += " (runs where no document is chosen)"
		}
		heading(w, f, text)
		t := table{heads: []string{"rule", "title", "values", "source"}}
		for j := range d.Rules {
			r := &d.Rules[j]
			t.add(r.ID, r.Title, string(r.Provenance), sourceText(r.Source))
		}
		t.in(f, w)
	}
	return nil
}

// oneRule explains a rule, or prints the values of a document.
func oneRule(w *bytes.Buffer, f format, list []documents.Entry, id string) error {
	for i := range list {
		if strings.EqualFold(list[i].ID, id) {
			return oneDocument(w, f, &list[i])
		}
	}
	e, err := documents.Explain(id)
	if err != nil {
		var ids []string
		for i := range list {
			ids = append(ids, list[i].ID)
		}
		return noSuchRule(err, id, ids)
	}
	switch f {
	case asJSON:
		return result.WriteJSON(w, ruleResult{Schema: "fay.rule/1", Explanation: e})
	case asCSV:
		return valuesCSV(w, []documents.Entry{{ID: e.Document, Rules: []documents.RuleEntry{e.RuleEntry}}})
	}
	explain(w, f, &e)
	return nil
}

// noSuchRule is the usage error of an id that is neither a document's nor a
// rule's; the nearer of the two kinds is suggested.
func noSuchRule(err error, id string, ids []string) error {
	hint := "`fay rules` lists them"
	if faults := joints.AsFaults(err); len(faults) > 0 {
		hint = faults[0].Remedy
	}
	if near := joints.Nearest(id, ids); near != "" && !strings.Contains(id, near) {
		hint = "did you mean " + near + "?"
	}
	return usage(fmt.Sprintf("%q: is neither a rule document nor a rule on file", id), hint)
}

func oneDocument(w *bytes.Buffer, f format, d *documents.Entry) error {
	switch f {
	case asJSON:
		return result.WriteJSON(w, rulesResult{Schema: "fay.rules/1", Documents: []documents.Entry{*d}})
	case asCSV:
		return valuesCSV(w, []documents.Entry{*d})
	}
	if f == asMD {
		printf(w, "# %s\n\n", d.Title)
	} else {
		printf(w, "%s\n", d.Title)
	}
	printf(w, "%s\n", scopeText(d.Scope))
	for i := range d.Rules {
		r := &d.Rules[i]
		heading(w, f, r.ID+": "+r.Title)
		values(w, f, r)
		printf(w, "%ssource: %s [%s]\n", space(f), sourceText(r.Source), r.Provenance)
	}
	return nil
}

// space parts a Markdown table from the paragraph after it.
func space(f format) string {
	if f == asMD {
		return "\n"
	}
	return ""
}

func scopeText(scope []string) string {
	if len(scope) == 0 {
		return "For any metal."
	}
	return "Written for " + strings.Join(scope, ", ") + "."
}

func values(w *bytes.Buffer, f format, r *documents.RuleEntry) {
	t := table{heads: r.Columns, rows: r.Values}
	t.in(f, w)
}

// explain prints one rule for people.
func explain(w *bytes.Buffer, f format, e *documents.Explanation) {
	if f == asMD {
		printf(w, "# %s\n\n%s\n", e.ID, e.Title)
	} else {
		printf(w, "%s\n%s\n", e.ID, e.Title)
	}
	printf(w, "\n%s %s\n", e.Formula, scopeText(e.Scope))
	heading(w, f, "Values")
	values(w, f, &e.RuleEntry)
	heading(w, f, "Source")
	printf(w, "%s [%s]\n%sRead in: %s\n", sourceText(e.Source), e.Provenance, space(f), e.Read)
	if e.Provenance == check.Memory {
		printf(w, "%sValues from memory are compared and marked, and never fail a joint by themselves.\n", space(f))
	}
	if e.Example == nil {
		return
	}
	heading(w, f, "Example")
	printf(w, "fay check %s checks=%s\n", e.Example.Joint, e.Document)
	if e.Example.With != "" {
		printf(w, "%swith %s\n", space(f), e.Example.With)
	}
	printf(w, "%s", space(f))
	bullet := "  "
	if f == asMD {
		bullet = "- "
	}
	d := &e.Example.Finding
	for _, s := range d.Steps {
		printf(w, "%s%s → %s → %s\n", bullet, s.Symbols, s.Numbers, s.Result)
	}
	if d.Mend != "" {
		printf(w, "%sto mend: %s\n", bullet, d.Mend)
	}
	if len(d.Steps) == 0 && d.Note != "" {
		printf(w, "%s%s: %s\n", bullet, d.Verdict, d.Note)
	}
}

// valuesCSV prints every line of every table of values.
func valuesCSV(w *bytes.Buffer, list []documents.Entry) error {
	t := table{heads: []string{"document", "rule", "title", "provenance", "source", "values"}}
	for i := range list {
		entry := &list[i]
		for j := range entry.Rules {
			r := &entry.Rules[j]
			for _, row := range r.Values {
				var cells []string
				for k, name := range r.Columns {
					if k < len(row) {
						cells = append(cells, name+": "+row[k])
					}
				}
				t.add(entry.ID, r.ID, r.Title, string(r.Provenance), sourceText(r.Source), strings.Join(cells, "; "))
			}
		}
	}
	return t.csv(w)
}
