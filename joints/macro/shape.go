package macro

import (
	"math"

	"fay/geometry"
	"fay/joints"
)

func some(mm float64) joints.Opt { return joints.Some(geometry.Length(mm)) }

// Shape is the outline of a fillet in a frame of its own: the joint root on the
// origin, member a's surface along +x, member b's at the angle Psi
// counter-clockwise. Lengths in mm.
type Shape struct {
	Psi  geometry.Angle
	Legs [2]float64
	Rise float64 // of the face over the chord, negative for a hollow one
	Root geometry.Point
}

// Toe is the toe on member a (0) or b (1).
func (s *Shape) Toe(i int) geometry.Point {
	if i == 0 {
		return geometry.Point{X: s.Legs[0]}
	}
	return geometry.Polar(s.Legs[1], s.Psi)
}

// Face is the arc from toe to toe.
func (s *Shape) Face() geometry.Edge { return geometry.Arc(s.Toe(0), s.Toe(1), s.Rise) }

func (s *Shape) width() float64 { return s.Toe(0).Dist(s.Toe(1)) }

// Throat is the shortest line from the weld root to the face.
func (s *Shape) Throat() joints.Line {
	q, _ := s.Face().Nearest(s.Root)
	return joints.Line{From: s.Root, To: q}
}

// Area is what the member surfaces and the face enclose, mm².
func (s *Shape) Area() float64 {
	return geometry.Area(geometry.Line(geometry.Point{}, s.Toe(0)), s.Face(), geometry.Line(s.Toe(1), geometry.Point{}))
}

func (s *Shape) throat() float64 {
	l := s.Throat()
	return l.From.Dist(l.To)
}

// frame places shapes in the section of a planned fillet.
type frame struct {
	weld   *joints.Weld
	name   [2]string
	along  geometry.Point // member a's surface
	across geometry.Point // square to it, towards member b
	abut   int            // foot of the member whose corner is at the root
	// faying is the direction, in the frame of a shape, in which penetration
	// is counted.
	faying geometry.Point
}

func newFrame(section *joints.Section, w *joints.Weld) frame {
	f := frame{weld: w, along: w.Feet[0].Toe.Sub(w.JointRoot).Unit()}
	for i := range f.name {
		f.name[i] = section.Members[w.Feet[i].Member].Name
	}
	f.across = f.along.Perp()
	if f.across.Dot(w.Feet[1].Toe.Sub(w.JointRoot)) < 0 {
		f.across = f.across.Scale(-1)
	}
	f.abut = 1
	if f.abutsFirst(section) {
		f.abut = 0
	}
	f.faying = f.fayingOf(&section.Members[w.Feet[f.abut].Member])
	return f
}

// surface is the direction of a member's surface from the joint root.
func (f *frame) surface(i int) geometry.Point {
	return f.weld.Feet[i].Toe.Sub(f.weld.JointRoot).Unit()
}

// abutsFirst tells whether the member of the first foot is the one that abuts:
// the gap lies along its surface or, without a gap, the other member's surface
// runs on past the joint root while its own ends there.
func (f *frame) abutsFirst(section *joints.Section) bool {
	if gap := f.weld.RootCorner.Sub(f.weld.JointRoot); gap.Norm() > tiny {
		return math.Abs(gap.Cross(f.surface(0))) < math.Abs(gap.Cross(f.surface(1)))
	}
	return f.runsOn(section, 1) && !f.runsOn(section, 0)
}

func (f *frame) runsOn(section *joints.Section, i int) bool {
	back := f.weld.JointRoot.Sub(f.surface(i).Scale(1e-3))
	return section.Members[f.weld.Feet[i].Member].Outline.Distance(back) < tiny
}

// in turns a direction of the section into the frame of a shape.
func (f *frame) in(v geometry.Point) geometry.Point {
	return geometry.Point{X: v.Dot(f.along), Y: v.Dot(f.across)}
}

// out places a point of a shape in the section.
func (f *frame) out(p geometry.Point) geometry.Point {
	return f.weld.JointRoot.Add(f.along.Scale(p.X)).Add(f.across.Scale(p.Y))
}

// fayingOf is the direction of the abutting member's end from its corner at
// the weld; where the outline does not show it, the direction of the
// continuous surface.
func (f *frame) fayingOf(m *joints.Member) geometry.Point {
	w := f.weld
	if v := w.WeldRoot.Sub(w.RootCorner); v.Norm() > 1e-6 {
		return f.in(v.Unit())
	}
	surface := f.surface(f.abut)
	for _, e := range m.Outline.All() {
		for _, end := range [2]geometry.Edge{e, e.Reverse()} {
			if end.Start().Dist(w.RootCorner) < 1e-6 && math.Abs(end.Tangent(0).Cross(surface)) > 1e-3 {
				return f.in(end.Tangent(0))
			}
		}
	}
	return f.in(f.surface(1 - f.abut).Scale(-1))
}

// corner is the distance of the abutting member's corner from the joint root,
// along its surface, with the gap that was measured instead of the planned one.
func (f *frame) corner(gap joints.Opt) float64 {
	d := f.weld.RootCorner.Sub(f.weld.JointRoot).Dot(f.surface(f.abut))
	if gap.Present {
		d += float64(gap.Value-f.weld.Gap) / math.Sin(float64(f.weld.Dihedral))
	}
	return d
}

// cornerAt is that corner where the surfaces meet at psi.
func (f *frame) cornerAt(psi geometry.Angle, gap joints.Opt) geometry.Point {
	if f.abut == 0 {
		psi = 0
	}
	return geometry.Polar(f.corner(gap), psi)
}

// planned is the shape of the weld as planned.
func (f *frame) planned() Shape {
	w := f.weld
	return Shape{Psi: w.Dihedral, Legs: [2]float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)}, Rise: float64(w.Convexity),
		Root: f.in(w.WeldRoot.Sub(w.JointRoot))}
}

// shape is the shape that measured sizes describe; legs must be there. What
// was not measured is taken flat, not penetrating, and with the planned gap.
func (f *frame) shape(s *Sizes) Shape {
	out := Shape{Psi: f.weld.Dihedral, Legs: [2]float64{float64(s.Legs[0].Value), float64(s.Legs[1].Value)}, Rise: float64(s.Convexity.Value)}
	out.Root = f.root(out.Psi, s.Gap, s.Penetration)
	return out
}

// root is the weld root for a gap and a penetration.
func (f *frame) root(psi geometry.Angle, gap, penetration joints.Opt) geometry.Point {
	return f.cornerAt(psi, gap).Add(f.faying.Scale(float64(penetration.Value)))
}
