// Package documents is the table of the rule documents on file.
package documents

import (
	"fmt"
	"strings"

	"fay/joints"
	"fay/joints/check"
	aisc36016 "fay/joints/check/aisc_360_16"
	pw33 "fay/joints/check/asme_i_pw_33"
	uw9 "fay/joints/check/asme_viii_uw_9"
	awsd11 "fay/joints/check/aws_d1_1"
	awsd112015 "fay/joints/check/aws_d1_1_2015"
	awsd112020 "fay/joints/check/aws_d1_1_2020"
	awsd12 "fay/joints/check/aws_d1_2"
	"fay/joints/check/blodgett"
	bs3019 "fay/joints/check/bs_3019"
	csaw59 "fay/joints/check/csa_w59"
	en199318 "fay/joints/check/en_1993_1_8"
	en199911 "fay/joints/check/en_1999_1_1"
	gaspipe "fay/joints/check/gas_pipe_14_c"
	gbt985 "fay/joints/check/gb_t_985_1988"
	iso10042 "fay/joints/check/iso_10042"
	iso58172014 "fay/joints/check/iso_5817_2014"
	iso96921 "fay/joints/check/iso_9692_1"
	iso96923 "fay/joints/check/iso_9692_3"
	jbt7949 "fay/joints/check/jb_t_7949_1999"
	mathers2002 "fay/joints/check/mathers_2002"
	superseded "fay/joints/check/superseded_minimum_leg"
	europe "fay/joints/check/transition_europe"
)

// all lists the documents in the order of the manual. Adding one means adding
// its line here and its package beside this one.
//
// An id with a part after a slash is one of several choices, a level, a
// process, a purpose, and runs where somebody chooses it.
var all = []check.Document{
	aisc36016.Document,
	awsd11.Document,
	awsd11.Cyclic,
	awsd112015.Document,
	awsd112020.Document,
	awsd12.Document,
	superseded.Document,
	csaw59.Document,
	en199318.Recommended,
	en199318.German,
	en199911.Document,
	blodgett.FullStrength,
	blodgett.Rigidity,
	iso58172014.Document(iso58172014.LevelB),
	iso58172014.Document(iso58172014.LevelC),
	iso58172014.Document(iso58172014.LevelD),
	pw33.Document(pw33.Longitudinal),
	pw33.Document(pw33.Circumferential),
	uw9.Document,
	europe.Fatigue,
	europe.Pressure,
	gaspipe.Document,
	jbt7949.Document(jbt7949.Arc),
	jbt7949.Document(jbt7949.SubmergedArc),
	mathers2002.Document,
	bs3019.Document,
	gbt985.Document,
	iso96921.Document,
	iso96923.Document,
}

// empty lists the documents whose rules have names but no values on file. They
// can be chosen by name and are not among [All].
var empty = []check.Document{
	iso10042.Document(iso10042.LevelB),
	iso10042.Document(iso10042.LevelC),
	iso10042.Document(iso10042.LevelD),
}

// Known returns every document that can be chosen by name: those on file and
// those whose rules have names but no values.
func Known() []check.Document { return append(append([]check.Document(nil), all...), empty...) }

// Default returns the ids of the documents to check against where nobody chose
// any: the three that say most of a plain joint, ISO 5817 at level C. Which
// documents a shop follows is for the shop to say; this is common practice, no
// source.
func Default() []string { return []string{"aisc-360-16", "aws-d1.1-reported", "iso-5817-2014/C"} }

// All returns every document on file.
func All() []check.Document { return append([]check.Document(nil), all...) }

// IDs returns the id of every document on file.
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
	for _, d := range Known() {
		for j := range d.Rules {
			ids = append(ids, d.Rules[j].ID)
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
	return Append([]check.Finding{}, facts, ids)
}

// Append is [Run] for those who have memory for the findings.
func Append(to []check.Finding, facts *check.Facts, ids []string) ([]check.Finding, error) {
	chosen, err := Select(ids)
	if err != nil {
		return nil, err
	}
	return check.Append(to, facts, chosen), nil
}

// byID finds documents by their ids in lower case.
var byID = func() map[string]*check.Document {
	m := make(map[string]*check.Document, len(all)+len(empty))
	for _, list := range [][]check.Document{all, empty} {
		for i := range list {
			m[strings.ToLower(list[i].ID)] = &list[i]
		}
	}
	return m
}()

func find(id string) *check.Document { return byID[strings.ToLower(strings.TrimSpace(id))] }

// TitleOf is the title of the document that a rule belongs to; the rule's own id
// where none on file has it, as of a shop's own limits.
func TitleOf(rule string) string {
	known := Known()
	for i := range known {
		for j := range known[i].Rules {
			if known[i].Rules[j].ID == rule {
				return known[i].Title
			}
		}
	}
	return rule
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
	ids := make([]string, 0, len(all)+len(empty))
	for _, d := range Known() {
		ids = append(ids, d.ID)
	}
	var levels []string
	for _, known := range ids {
		if base, _, ok := strings.Cut(known, "/"); ok && strings.EqualFold(base, document) {
			levels = append(levels, known)
		}
	}
	near := joints.Nearest(id, ids)
	switch {
	case len(levels) > 0:
		word := "choice"
		if _, level, _ := strings.Cut(levels[0], "/"); len(level) == 1 {
			word = "level"
		}
		f.Rule = "has no such " + word
		if !strings.Contains(id, "/") {
			f.Rule = "needs a " + word
		}
		f.Remedy = "use one of " + strings.Join(levels, ", ")
	case near != "":
		f.Remedy = "did you mean " + near + "?"
	default:
		f.Remedy = "use one of " + strings.Join(alike(document, ids), ", ")
	}
	return f
}

// alike are the ids that begin with name, or else those that run by default.
func alike(name string, ids []string) []string {
	var out []string
	for _, id := range ids {
		if name != "" && strings.HasPrefix(id, strings.ToLower(name)) {
			out = append(out, id)
		}
	}
	if len(out) == 0 {
		return Default()
	}
	return out
}
