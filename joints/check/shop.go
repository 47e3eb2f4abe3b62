package check

import (
	"fmt"
	"math"
	"strings"

	"fay/joints"
)

// ShopLimit is one limit that a shop sets itself, as plain data.
type ShopLimit struct {
	// Of is the name of a [Quantity] (convexity, undercut, gap, leg-minimum),
	// or the id of a rule about one, such as iso-10042/C/503.
	Of       string
	Operator Operator // AtMost when empty
	// The limit is Base + Factor · Size, at most Most where that is not zero;
	// in mm, or in degrees for an angle.
	Base, Factor float64
	Size         Size // width, root width, throat, thickness; NoSize for a fixed value
	Most         float64
	Note         string // printed with the finding
}

// ShopID is the id of the document of a shop's own limits.
const ShopID = "shop"

// ShopDocument makes the document of a shop's own limits. The error is of type
// [joints.Faults] and names everything that is wrong: field limits[i].of,
// .operator, .base, .factor, .size or .most.
func ShopDocument(limits []ShopLimit) (Document, error) {
	d := Document{ID: ShopID, Title: "the shop's own limits", Rules: make([]Rule, 0, len(limits))}
	var faults joints.Faults
	seen := map[string]int{}
	for i := range limits {
		l := &limits[i]
		q, found := LookupQuantity(strings.TrimSpace(l.Of))
		before := len(faults)
		faults = append(faults, l.faults(i, found)...)
		if len(faults) > before {
			continue
		}
		op := l.Operator
		if op == "" {
			op = AtMost
		}
		id := ShopID + "/" + strings.ReplaceAll(strings.TrimSpace(l.Of), "/", "-")
		if seen[id]++; seen[id] > 1 {
			id = fmt.Sprintf("%s-%d", id, seen[id])
		}
		d.Rules = append(d.Rules, shopRule(id, l, q, op))
	}
	if len(faults) > 0 {
		return Document{}, faults
	}
	return d, nil
}

// faults checks a limit on its own.
func (l *ShopLimit) faults(i int, found bool) joints.Faults {
	var out joints.Faults
	field := func(name string) string { return fmt.Sprintf("limits[%d].%s", i, name) }
	if !found {
		names := make([]string, len(quantities))
		for j, q := range quantities {
			names[j] = q.Name
		}
		remedy := "use one of " + strings.Join(names, ", ")
		if near := joints.Nearest(l.Of, names); near != "" {
			remedy = "did you mean " + near + "?"
		}
		out = append(out, joints.Fault{Code: joints.FaultUnknown, Field: field("of"), Value: l.Of,
			Rule: "is not a quantity that a limit can be set to", Remedy: remedy})
	}
	if l.Operator != "" && l.Operator != AtMost && l.Operator != AtLeast {
		out = append(out, joints.Fault{Code: joints.FaultUnknown, Field: field("operator"), Value: string(l.Operator),
			Rule: "is not a comparison", Remedy: "use ≤ or ≥"})
	}
	if _, ok := sizes[l.Size]; !ok && l.Size != NoSize {
		out = append(out, joints.Fault{Code: joints.FaultUnknown, Field: field("size"), Value: string(l.Size),
			Rule: "is not a size that a limit can grow with", Remedy: "use width, root width, throat or thickness, or leave it out"})
	}
	for _, v := range []struct {
		name  string
		value float64
	}{{"base", l.Base}, {"factor", l.Factor}, {"most", l.Most}} {
		if math.IsNaN(v.value) || math.IsInf(v.value, 0) || v.value < 0 {
			out = append(out, joints.Fault{Code: joints.FaultRange, Field: field(v.name), Value: fmt.Sprint(v.value),
				Rule: "must be a number of zero or more", Remedy: "give mm, or degrees for an angle"})
		}
	}
	if l.Factor != 0 && l.Size == NoSize {
		out = append(out, joints.Fault{Code: joints.FaultMissing, Field: field("size"),
			Rule: "a factor needs the size it multiplies", Remedy: "give width, root width, throat or thickness"})
	}
	return out
}

func shopRule(id string, l *ShopLimit, q *Quantity, op Operator) Rule {
	limit := Limit{Base: l.Base, Factor: l.Factor, Of: l.Size, Most: l.Most}
	if l.Factor == 0 {
		limit.Of = NoSize
	}
	c := NewComparison(q, op, limit)
	note := l.Note
	return Rule{
		ID: id, Title: "Shop limit: " + q.Name, Source: Source{Document: "shop limit", Clause: q.Name}, Provenance: Shop,
		Read: "the shop's settings", Doc: "The " + q.Doc + ", against the shop's own limit.",
		Values: Table{Columns: []string{"quantity", "limit, " + string(q.Unit)}, Rows: [][]string{{q.Name, string(op) + " " + limit.String()}}},
		Check: func(f *Facts, to []Finding) []Finding {
			for i := range f.Section.Welds {
				w := &f.Section.Welds[i]
				finding := c.Check(f, w)
				finding.Weld = w.ID
				if note != "" {
					finding.AddNote(note)
				}
				to = append(to, finding)
			}
			return to
		},
	}
}
