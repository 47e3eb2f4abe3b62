package cli

import (
	"slices"
	"strconv"
	"strings"

	"fay/joints/check"
	"fay/joints/check/documents"
	"fay/render/sheet"
)

// checked tells which documents a joint was checked against, which of them say
// nothing of it, and of those that were compared though they are written for
// other metals, which metal that is.
func (j *job) checked(findings []check.Finding) []sheet.Checked {
	chosen, err := documents.Select(j.documents())
	if err != nil {
		return nil // the findings fail on it
	}
	facts := j.facts()
	list := make([]sheet.Checked, 0, len(chosen)+1)
	for i := range chosen {
		d := &chosen[i]
		c := sheet.Checked{Title: d.Title, Idle: !compared(d, findings)}
		if out := d.Outside(facts); len(out) > 0 && !c.Idle {
			c.NotFor = strings.Join(out, ", ")
		}
		list = append(list, c)
	}
	if len(j.settings.Limits) > 0 {
		list = append(list, sheet.Checked{Title: "the shop's own limits"})
	}
	return list
}

// compared tells whether a rule of a document applies.
func compared(d *check.Document, findings []check.Finding) bool {
	return slices.ContainsFunc(findings, func(f check.Finding) bool {
		return f.Verdict != check.NotApplicable && slices.ContainsFunc(d.Rules, func(r check.Rule) bool { return r.ID == f.Rule })
	})
}

// coverRules adds to what the cover says of the checks the documents of all
// joints, and those that are written for another metal with their joints.
func coverRules(done []jobDone, findings []string) []string {
	var titles []string
	var strange []sheet.Checked
	on := map[sheet.Checked][]string{}
	for i := range done {
		for _, c := range done[i].rules {
			if !c.Idle && !slices.Contains(titles, c.Title) {
				titles = append(titles, c.Title)
			}
			if c.NotFor == "" {
				continue
			}
			if on[c] == nil {
				strange = append(strange, c)
			}
			on[c] = append(on[c], strconv.Itoa(done[i].line.Number))
		}
	}
	if len(titles) == 0 {
		return findings
	}
	out := []string{findings[0] + "; checked: " + strings.Join(titles, "; ")}
	for _, c := range strange {
		out = append(out, c.Title+" is not written for "+c.NotFor+": "+joined(on[c]))
	}
	return append(out, findings[1:]...)
}
