package preparation

import (
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// shape is the preparation that a section shows.
type shape struct {
	prep     joints.Prep
	angles   []float64 // of the arrow side, then of the other side; included for V
	opening  float64
	rootFace float64
	radii    []float64
	t        geometry.Length
	backing  bool
	butt     bool
	weld     string // of a fillet
}

// reason is why a section has no shape to compare.
type reason string

// shapes reads the preparation of the grooves, or the fillets where there is no
// groove.
func shapes(f *check.Facts) ([]shape, reason) {
	var out []shape
	grooves := 0
	for i := range f.Section.Welds {
		if f.Section.Welds[i].Kind == joints.GrooveWeld {
			grooves++
		}
	}
	if grooves > 0 {
		s, why := groove(f)
		if why != "" {
			return nil, why
		}
		return []shape{s}, ""
	}
	for i := range f.Section.Welds {
		switch w := &f.Section.Welds[i]; w.Kind {
		case joints.FilletWeld:
			if w.Feet[0].OnEdge && w.Feet[1].OnEdge {
				continue // the outside of a corner
			}
			out = append(out, shape{prep: Fillet, angles: []float64{w.Dihedral.Degrees()}, opening: float64(w.Gap), t: f.Thinner(w), weld: w.ID})
		case joints.EdgeWeld:
			if r := f.MeasureOr("bend radius", -1); r >= 0 {
				out = append(out, shape{prep: Flanged, opening: float64(w.Gap), radii: []float64{r}, t: f.Thinner(w), butt: true, weld: w.ID})
			}
		}
	}
	if len(out) == 0 {
		return nil, "the joint shows no preparation"
	}
	return out, ""
}

// groove reads the preparation of a joint with groove welds from its measures.
func groove(f *check.Facts) (shape, reason) {
	s := shape{backing: f.Section.Backing != nil, butt: f.Butts()}
	if len(f.Section.Members) > 2 {
		return s, "more than one member is prepared; the tables speak of one joint"
	}
	var filled geometry.Length
	for i := range f.Section.Welds {
		w := &f.Section.Welds[i]
		if w.Kind != joints.GrooveWeld {
			continue
		}
		if !s.butt && w.Dihedral == 0 {
			return s, "the tables speak of butt, T and corner joints"
		}
		if s.t == 0 {
			s.t, s.opening = f.Thinner(w), float64(w.Gap)
			if !s.butt {
				s.t = f.Thickness(w.Feet[1].Member) // the abutting member is prepared
			}
		}
		filled += w.TheoreticalThroat
	}
	if filled < s.t*(1-1e-6) {
		return s, "the tables are for full penetration, and the weld is partial"
	}
	vee, double := false, false
	for i := range f.Section.Measures {
		m := &f.Section.Measures[i]
		if m.Weld != "" {
			continue
		}
		name, other := strings.CutPrefix(m.Name, "other ")
		double = double || other
		switch name {
		case "groove angle":
			vee = true
			s.angles = append(s.angles, m.Value)
		case "bevel angle":
			s.angles = append(s.angles, m.Value)
		case "root face":
			s.rootFace = m.Value
		case "root radius":
			s.radii = append(s.radii, m.Value)
		}
	}
	curved := len(s.radii) > 0
	switch {
	case len(s.angles) == 0 && !curved:
		s.prep = joints.PrepSquare
		return s, ""
	case curved && vee:
		s.prep = joints.PrepSingleU
		for i := range s.angles {
			s.angles[i] /= 2 // tables give the side of a U
		}
	case curved:
		s.prep = joints.PrepSingleJ
	case vee:
		s.prep = joints.PrepSingleV
	default:
		s.prep = joints.PrepSingleBevel
	}
	if double {
		s.prep = joints.Prep(strings.Replace(string(s.prep), "single", "double", 1))
	}
	return s, ""
}

// excess is how badly the shape fits a row.
func (s *shape) excess(r *Row) float64 {
	sum := r.Opening.For(s.t).excess(s.opening)
	for _, a := range s.angles {
		sum += r.Angle.excess(a / sides(r))
	}
	if s.bevelled() {
		sum += r.RootFace.For(s.t).excess(s.rootFace)
	}
	for _, v := range s.radii {
		sum += r.Radius.excess(v)
	}
	return sum
}

func (s *shape) bevelled() bool {
	return s.prep != joints.PrepSquare && s.prep != Fillet && s.prep != Flanged
}

// sides is what a measured angle is divided by before it is compared.
func sides(r *Row) float64 {
	switch {
	case r.PerSide:
		return 2
	case r.Included:
		return 0.5
	}
	return 1
}

// best is the row that the shape fits best, the first of equals.
func (t *Table) best(s *shape, process string) (*Row, reason) {
	var best *Row
	least := 0.0
	why := reason("the table has no " + words(s.prep))
	for i := range t.Rows {
		r := &t.Rows[i]
		switch {
		case r.Prep != s.prep:
			continue
		case !r.serves(process):
			why = reason("the table has no " + words(s.prep) + " for " + process)
			continue
		case s.prep != Fillet && (!r.Backing.holds(s.backing) || !r.Butt.holds(s.butt)):
			why = reason("the table has no such " + words(s.prep) + " for this joint and backing")
			continue
		case !r.Covers(s.t):
			why = reason("the table has no " + words(s.prep) + " for " + trim(float64(s.t)) + " mm")
			continue
		}
		if e := s.excess(r); best == nil || e < least {
			best, least = r, e
		}
	}
	if best == nil {
		return nil, why
	}
	return best, ""
}

// words prints a form for sentences.
func words(p joints.Prep) string {
	if p == Fillet {
		return "fillet"
	}
	return strings.ReplaceAll(string(p), "-", " ") + " preparation"
}
