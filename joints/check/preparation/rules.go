package preparation

import (
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// part is one of the numbers of a preparation.
type part struct {
	name, title, symbol, doc string
	unit                     joints.Unit
	span                     func(*Row) Span
	values                   func(*shape) []float64
	mend                     string
}

var parts = []part{
	{name: "angle", title: "Angle of the preparation", symbol: "α", unit: joints.UnitDegree, mend: "an angle",
		doc:    "The included angle of a V, the angle of the prepared side of a bevel, U or J, the angle between the members of a fillet",
		span:   func(r *Row) Span { return r.Angle },
		values: func(s *shape) []float64 { return s.angles }},
	{name: "opening", title: "Root opening or gap", symbol: "b", unit: joints.UnitMM, mend: "an opening",
		doc:    "The root opening of a groove, the gap of a fillet",
		span:   func(r *Row) Span { return r.Opening },
		values: func(s *shape) []float64 { return []float64{s.opening} }},
	{name: "root-face", title: "Root face", symbol: "c", unit: joints.UnitMM, mend: "a root face",
		doc:  "The unbevelled part of the edge at the root",
		span: func(r *Row) Span { return r.RootFace },
		values: func(s *shape) []float64 {
			if !s.bevelled() {
				return nil
			}
			return []float64{s.rootFace}
		}},
	{name: "radius", title: "Root radius", symbol: "R", unit: joints.UnitMM, mend: "a radius",
		doc:    "The radius at the root of a U or J, or of a flanged edge",
		span:   func(r *Row) Span { return r.Radius },
		values: func(s *shape) []float64 { return s.radii }},
}

// rules makes one rule for every number that the table gives.
func (t *Table) rules() []check.Rule {
	var out []check.Rule
	for i := range parts {
		p := &parts[i]
		values := check.Table{Columns: []string{"row", "preparation", "thickness, mm", p.title + ", " + unit(p.unit), "values"}}
		for j := range t.Rows {
			r := &t.Rows[j]
			if span := p.span(r); span.given {
				text := span.String()
				if p.name == "angle" {
					text += r.how()
				}
				values.Rows = append(values.Rows, []string{r.Name, words(r.Prep), r.Thickness(), text, string(t.provenance(r))})
			}
		}
		if len(values.Rows) == 0 {
			continue
		}
		out = append(out, check.Rule{
			ID: t.ID + "/" + p.name, Title: p.title, Source: t.Source, Provenance: t.Provenance, Read: t.Read,
			Doc: p.doc + ", against the row of the table for the preparation, the thinner plate and the process; " +
				"where several rows hold, against the one that the whole preparation fits best.",
			Values: values,
			Check:  func(f *check.Facts, to []check.Finding) []check.Finding { return t.check(f, p, to) },
		})
	}
	return out
}

func unit(u joints.Unit) string {
	if u == joints.UnitDegree {
		return "degrees"
	}
	return "mm"
}

func (t *Table) check(f *check.Facts, p *part, to []check.Finding) []check.Finding {
	if why := t.idle(f, p); why != "" {
		return append(to, check.Inapplicable(why))
	}
	found, why := shapes(f)
	if why != "" {
		return append(to, check.Inapplicable(string(why)))
	}
	for i := range found {
		s := &found[i]
		r, why := t.best(s, f.Process)
		if why != "" {
			to = append(to, tell(s, check.Inapplicable(string(why))))
			continue
		}
		span := p.span(r).For(s.t)
		values := p.values(s)
		if !span.given || len(values) == 0 {
			to = append(to, tell(s, check.Inapplicable("row "+r.Name+" says nothing of it")))
			continue
		}
		for _, v := range values {
			if p.name == "angle" {
				v /= sides(r)
			}
			to = append(to, tell(s, t.compare(f, p, r, span, v, s)))
		}
	}
	return to
}

// idle tells at a glance that a table has nothing for fillets, which most
// joints have.
func (t *Table) idle(f *check.Facts, p *part) string {
	for i := range f.Section.Welds {
		if f.Section.Welds[i].Kind != joints.FilletWeld {
			return ""
		}
	}
	for i := range t.Rows {
		if t.Rows[i].Prep == Fillet && p.span(&t.Rows[i]).given {
			return ""
		}
	}
	return "the table says nothing of it for fillets"
}

// how says in which way an angle is printed, where it is not the usual one.
func (r *Row) how() string {
	switch {
	case r.PerSide:
		return " per side"
	case r.Included:
		return " included"
	}
	return ""
}

func tell(s *shape, f check.Finding) check.Finding {
	f.Weld = s.weld
	return f
}

func (t *Table) compare(f *check.Facts, p *part, r *Row, span Span, v float64, s *shape) check.Finding {
	if span.About {
		finding := check.Unknown("the table says " + span.String() + " and gives no range; the joint has " + show(f, v, p.unit))
		finding.Provenance = t.provenance(r)
		return finding
	}
	finding := check.Within(v, span.Low, span.High, p.unit)
	finding.Provenance = t.provenance(r)
	if !f.Brief {
		finding.Step("row of the table", words(s.prep)+", t = "+f.Show(s.t), r.Name+", "+t.source(r).Clause)
		finding.Step(p.symbol+" in the range of the row", show(f, v, p.unit)+" in "+span.String()+" "+unit(p.unit), string(finding.Verdict))
	}
	if r.Note != "" {
		finding.AddNote(r.Note)
	}
	if finding.Verdict == check.NotMet {
		finding.Mend = p.mend + " of " + span.String() + " " + unit(p.unit)
		if p.name == "angle" {
			finding.Mend += r.how()
		}
	}
	return finding
}

func show(f *check.Facts, v float64, u joints.Unit) string {
	if u == joints.UnitDegree {
		return trim(v) + "°"
	}
	return f.Show(geometry.Length(v))
}
