// Package documents is the table of the rule documents on file.
package documents

import (
	"fmt"
	"strings"

	"fay/joints"
	"fay/joints/check"
	aisc36016 "fay/joints/check/aisc_360_16"
	awsd11 "fay/joints/check/aws_d1_1"
	iso58172014 "fay/joints/check/iso_5817_2014"
)

// all lists the documents in the order of the manual. Adding one means adding
// its line here and its package beside this one.
var all = []check.Document{
	aisc36016.Document,
	awsd11.Document,
	iso58172014.Document(iso58172014.LevelB),
	iso58172014.Document(iso58172014.LevelC),
	iso58172014.Document(iso58172014.LevelD),
}

// All returns every document on file.
func All() []check.Document { return append([]check.Document(nil), all...) }

// IDs returns the id of every document.
func IDs() []string {
	ids := make([]string, len(all))
	for i := range all {
		ids[i] = all[i].ID
	}
	return ids
}

// RuleIDs returns the id of every rule, for those that silence some.
func RuleIDs() []string {
	var ids []string
	for i := range all {
		for j := range all[i].Rules {
			ids = append(ids, all[i].Rules[j].ID)
		}
	}
	return ids
}

// Select returns the documents with the ids, in the order given and each once.
// Case does not count. The error is of type [joints.Faults] and names every id
// that is not on file with the nearest one that is.
func Select(ids []string) ([]check.Document, error) {
	var faults joints.Faults
	chosen := make([]check.Document, 0, len(ids))
	for i, id := range ids {
		d := find(id)
		switch {
		case d == nil:
			faults = append(faults, unknown(i, id))
		case !contains(chosen, d.ID):
			chosen = append(chosen, *d)
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return chosen, nil
}

// Run checks the facts against the documents with the ids.
func Run(facts *check.Facts, ids []string) ([]check.Finding, error) {
	chosen, err := Select(ids)
	if err != nil {
		return nil, err
	}
	return check.Run(facts, chosen), nil
}

func find(id string) *check.Document {
	for i := range all {
		if strings.EqualFold(all[i].ID, strings.TrimSpace(id)) {
			return &all[i]
		}
	}
	return nil
}

func contains(documents []check.Document, id string) bool {
	for i := range documents {
		if documents[i].ID == id {
			return true
		}
	}
	return false
}

// unknown is the fault of an id that is not on file: a level missing or wrong
// for a document that has some, or another document.
func unknown(i int, id string) joints.Fault {
	f := joints.Fault{Code: joints.FaultUnknown, Field: fmt.Sprintf("checks[%d]", i), Value: id,
		Rule: "is not a rule document on file"}
	document, _, _ := strings.Cut(strings.TrimSpace(id), "/")
	var levels []string
	for _, known := range IDs() {
		if base, _, ok := strings.Cut(known, "/"); ok && strings.EqualFold(base, document) {
			levels = append(levels, known)
		}
	}
	near := joints.Nearest(id, IDs())
	switch {
	case len(levels) > 0:
		f.Rule = "has no such level"
		if !strings.Contains(id, "/") {
			f.Rule = "needs a level"
		}
		f.Remedy = "use one of " + strings.Join(levels, ", ")
	case near != "":
		f.Remedy = "did you mean " + near + "?"
	default:
		f.Remedy = "use one of " + strings.Join(IDs(), ", ")
	}
	return f
}
