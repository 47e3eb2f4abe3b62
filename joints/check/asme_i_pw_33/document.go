// Package pw33 holds table PW-33 of ASME section I: offsets of butting edges.
package pw33

import (
	"strconv"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// Direction is the direction of a joint in a shell: along it or round it.
type Direction string

// The directions.
const (
	Longitudinal    Direction = "longitudinal"
	Circumferential Direction = "circumferential"
)

// Document returns table PW-33 for a direction.
func Document(d Direction) check.Document {
	return check.Document{
		ID:    "asme-i-pw-33/" + string(d),
		Title: "ASME section I, PW-33, " + string(d) + " joints",
		Scope: []string{"steel", "stainless", "nickel"},
		Rules: []check.Rule{offset(d)},
	}
}

// row is a line of the table: up to a thickness, share·t or a length, the
// lesser where both are given; upTo of 0 is everything thicker.
type row struct {
	upTo  geometry.Length
	share float64
	most  geometry.Length
	text  string
}

// Table PW-33, in mm, scan at fr.scribd.com/document/137304057 (primary); the
// edition is not shown.
var rows = map[Direction][]row{
	Longitudinal: {
		{upTo: 13, share: 1.0 / 4, text: "t/4"},
		{upTo: 19, most: 3, text: "3.0 mm"},
		{upTo: 38, most: 3, text: "3.0 mm"},
		{upTo: 50, most: 3, text: "3.0 mm"},
		{share: 1.0 / 16, most: 10, text: "lesser of t/16 and 10 mm"},
	},
	Circumferential: {
		{upTo: 13, share: 1.0 / 4, text: "t/4"},
		{upTo: 19, share: 1.0 / 4, text: "t/4"},
		{upTo: 38, most: 5, text: "5 mm"},
		{upTo: 50, share: 1.0 / 8, text: "t/8"},
		{share: 1.0 / 8, most: 19, text: "lesser of t/8 and 19 mm"},
	},
}

// limit is the largest offset at a thickness.
func (r row) limit(t geometry.Length) geometry.Length {
	share := geometry.Length(r.share) * t
	switch {
	case r.share == 0:
		return r.most
	case r.most == 0:
		return share
	}
	return min(share, r.most)
}

func find(d Direction, t geometry.Length) row {
	table := rows[d]
	for _, r := range table {
		if t <= r.upTo*(1+1e-9) {
			return r
		}
	}
	return table[len(table)-1]
}

func values(d Direction) check.Table {
	v := check.Table{Columns: []string{"thinner part, up to", "largest offset"}}
	for _, r := range rows[d] {
		upTo := "over"
		if r.upTo > 0 {
			upTo = strconv.FormatFloat(float64(r.upTo), 'f', -1, 64) + " mm"
		}
		v.Rows = append(v.Rows, []string{upTo, r.text})
	}
	return v
}

func offset(d Direction) check.Rule {
	return check.Rule{
		ID:         "asme-i-pw-33/" + string(d) + "/offset",
		Title:      "Largest offset of edges, " + string(d) + " joint",
		Source:     check.Source{Document: "ASME BPVC section I", Edition: "not shown in the scan", Clause: "Table PW-33"},
		Provenance: check.Primary,
		Read:       "scan at fr.scribd.com/document/137304057",
		Doc:        "The hi-lo, planned or measured, against a limit by the thinner part. The table is read in mm.",
		Values:     values(d),
		Check: func(f *check.Facts, to []check.Finding) []check.Finding {
			return f.Each(to, func(w *joints.Weld) check.Finding { return checkOffset(f, w, d) }, joints.GrooveWeld)
		},
	}
}

func checkOffset(f *check.Facts, w *joints.Weld, d Direction) check.Finding {
	r := check.HiLo.Read(f, w)
	if r.Verdict != "" {
		return check.Finding{Verdict: r.Verdict, Note: r.Note}
	}
	t := f.Thinner(w)
	line := find(d, t)
	most := line.limit(t)
	finding := check.Compare(r.Value, check.AtMost, float64(most), joints.UnitMM)
	if !f.Brief {
		finding.Step("e_max(t) = "+line.text, "t = "+f.Show(t), "e_max = "+f.Show(most))
		finding.Step("e ≤ e_max", f.Show(geometry.Length(r.Value))+" ≤ "+f.Show(most), string(finding.Verdict))
	}
	if finding.Verdict == check.NotMet {
		finding.Mend = "a hi-lo of at most " + f.ShowAtMost(most)
	}
	return finding
}
