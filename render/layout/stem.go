package layout

import (
	"fay/geometry"
	"fay/render"
)

// stem is how dear the lines of a candidate are that only get longer from one
// candidate to the next: the extension lines of a dimension out to a level, a
// leader in one direction. What a short one meets, a long one meets too, so that
// most places are found too dear without drawing them.
type stem struct {
	known bool
	x     float64
	cost  float64
}

// stemCost is what the lines of a candidate cost at least, forbidden or more
// where they break a rule.
func (p *placer) stemCost(t *task, k *candidate) float64 {
	key := int(k.group)
	switch t.form {
	case leader:
		key = len(leaderAngles)*key + int(k.angle)
	case inline:
		key = int(k.angle)
	case linear:
	case angular, welding:
		return 0 // other lines each time
	}
	for key >= len(p.stems) {
		p.stems = append(p.stems, stem{})
	}
	s := &p.stems[key]
	if !s.known || s.x < k.x && s.cost < forbidden {
		*s = stem{true, k.x, p.grow(t, k)}
	}
	if s.x > k.x {
		return 0
	}
	return s.cost
}

// grow reckons a stem.
func (p *placer) grow(t *task, k *candidate) float64 {
	switch t.form {
	case leader:
		at := t.targets[k.group]
		if t.end == render.EndDot {
			p.root[0] = at
			return p.lone(at, at.Add(leaderDirections[k.angle].Scale(k.x)), line, p.root[:])
		}
		return p.lone(at, at.Add(leaderDirections[k.angle].Scale(k.x)), line, nil)
	case inline:
		if k.angle > 0 {
			from := t.a.Lerp(t.b, 0.5)
			return p.lone(from, from.Add(leaderDirections[k.angle-1].Scale(k.x)), line, nil)
		}
		return p.lone(t.a, t.b.Add(t.b.Sub(t.a).Unit().Scale(k.x)), line, nil)
	default:
		st := &p.stacks[k.group]
		total := 0.0
		for _, from := range [2]geometry.Point{t.a, t.b} {
			to := st.foot(from, k.x)
			v := to.Sub(from)
			if n := v.Norm(); n > p.style.ExtensionGap && !p.onOutline(to) {
				total += p.lone(from.Add(v.Scale(p.style.ExtensionGap/n)), to, extension, nil)
			}
		}
		return total
	}
}

// lone is what a stroke would cost by itself.
func (p *placer) lone(a, b geometry.Point, kind strokeKind, dots []geometry.Point) float64 {
	s := newStroke(a, b, kind)
	p.about(s.box)
	return p.strokeCost(&s, nil, dots)
}
