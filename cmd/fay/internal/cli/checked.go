package cli

import (
	"slices"
	"strconv"
	"strings"

	"fay/joints/check"
	"fay/joints/check/documents"
)

// checked tells what a joint was checked against: the titles of the documents,
// and in sentences which of them are written for other metals than the joint's
// and were compared all the same.
func (j *job) checked(findings []check.Finding) (titles, remarks []string) {
	chosen, err := documents.Select(j.documents())
	if err != nil {
		return nil, nil // the findings fail on it
	}
	facts := j.facts()
	var scopes []string
	strange := map[string][]string{}
	for i := range chosen {
		d := &chosen[i]
		titles = append(titles, d.Title)
		out := d.Outside(facts)
		if len(out) == 0 || !compared(d, findings) {
			continue
		}
		scope := "written for " + strings.Join(d.Scope, ", ") + ", not for " + strings.Join(out, ", ")
		if strange[scope] == nil {
			scopes = append(scopes, scope)
		}
		strange[scope] = append(strange[scope], d.Title)
	}
	for _, scope := range scopes {
		remarks = append(remarks, strings.Join(strange[scope], "; ")+": "+scope)
	}
	if len(j.settings.Limits) > 0 {
		titles = append(titles, "the shop's own limits")
	}
	return titles, remarks
}

// compared tells whether a rule of a document applies.
func compared(d *check.Document, findings []check.Finding) bool {
	return slices.ContainsFunc(findings, func(f check.Finding) bool {
		return f.Verdict != check.NotApplicable && slices.ContainsFunc(d.Rules, func(r check.Rule) bool { return r.ID == f.Rule })
	})
}

// coverRules adds to what the cover says of the checks the documents of all
// joints, and the remarks on them with the joints they hold for.
func coverRules(done []jobDone, findings []string) []string {
	var titles, remarks []string
	on := map[string][]string{}
	for i := range done {
		for _, title := range done[i].rules {
			if !slices.Contains(titles, title) {
				titles = append(titles, title)
			}
		}
		for _, text := range done[i].remarks {
			if on[text] == nil {
				remarks = append(remarks, text)
			}
			on[text] = append(on[text], strconv.Itoa(done[i].line.Number))
		}
	}
	if len(titles) == 0 {
		return findings
	}
	out := []string{findings[0] + "; checked: " + strings.Join(titles, "; ")}
	for _, text := range remarks {
		out = append(out, text+" ("+joined("joint", on[text])+")")
	}
	return append(out, findings[1:]...)
}
