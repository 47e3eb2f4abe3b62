package macro

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
	"fay/joints/jointstest"
)

// photograph is a random similarity and its millimetres a unit.
func photograph(r *rand.Rand) (geometry.Transform, float64) {
	scale := math.Exp(6*r.Float64() - 4) // mm a unit
	t := geometry.Rotate(geometry.Angle(2*math.Pi*r.Float64()), geometry.Point{})
	if r.IntN(2) == 0 {
		t = t.Then(geometry.MirrorY())
	}
	t = t.Then(geometry.Scale(1 / scale)).Then(geometry.Translate(geometry.Point{X: 2000 * r.Float64(), Y: 1500 * r.Float64()}))
	return t, scale
}

// shoot reads points off a planned fillet: n on each surface, m on the face.
func shoot(w *joints.Weld, t geometry.Transform, n, m int, noise func() geometry.Point) *Points {
	at := func(p geometry.Point) geometry.Point { return t.Apply(p.Add(noise())) }
	p := &Points{Scale: geometry.Length(1 / t.Factor())}
	surface := func(i int) (out []geometry.Point) {
		u := w.Feet[i].Toe.Sub(w.JointRoot)
		for k := range n {
			out = append(out, at(w.JointRoot.Add(u.Scale(0.2+2*float64(k)/float64(n-1)))))
		}
		return out
	}
	p.SurfaceA, p.SurfaceB = surface(0), surface(1)
	for k := range m {
		p.Face = append(p.Face, at(w.FaceEdges[0].At(float64(k)/float64(m-1))))
	}
	p.Root = []geometry.Point{at(w.WeldRoot)}
	return p
}

func still() geometry.Point { return geometry.Point{} }

// eachFillet calls visit with the fillets of random joints of every kind.
func eachFillet(t *testing.T, each int, visit func(t *testing.T, s *joints.Section, w *joints.Weld, r *rand.Rand)) {
	t.Helper()
	seen := 0
	for k := range joints.Kinds {
		kind := &joints.Kinds[k]
		r := rand.New(rand.NewPCG(11, uint64(k)))
		for range each {
			s, _, ok := jointstest.Section(kind, r)
			if !ok {
				continue
			}
			for i := range s.Welds {
				if w := &s.Welds[i]; w.Kind == joints.FilletWeld && len(w.FaceEdges) == 1 {
					visit(t, &s, w, r)
					seen++
				}
			}
		}
	}
	if seen < each {
		t.Fatalf("only %d fillets", seen)
	}
}

// Points of a planned fillet, however turned, mirrored and scaled, give the
// plan back.
func TestRoundTrip(t *testing.T) {
	eachFillet(t, 60, func(t *testing.T, s *joints.Section, w *joints.Weld, r *rand.Rand) {
		t.Helper()
		move, _ := photograph(r)
		f := newFrame(s, w)
		got, faults := recoverProfile(shoot(w, move, 2+r.IntN(3), 3+r.IntN(9), still), &f, &Sizes{})
		if len(faults) > 0 {
			t.Fatalf("%s %s: %v", s.Kind, w.ID, faults)
		}
		plan := f.planned()
		for _, c := range []struct {
			name      string
			want, got float64
		}{
			{"leg a", float64(w.Feet[0].Leg), got.Legs[0]},
			{"leg b", float64(w.Feet[1].Leg), got.Legs[1]},
			{"throat", float64(w.ActualThroat), got.Throat},
			{"convexity", float64(w.Convexity), got.Rise},
			{"face", float64(w.FaceWidth), got.FaceWidth},
			{"area", plan.Area(), got.Area},
			{"angle", float64(w.Dihedral), float64(got.Psi)},
			{"penetration", float64(w.Penetration), float64(got.Reached.Value)},
		} {
			if math.Abs(c.want-c.got) > 1e-6 {
				t.Errorf("%s %s: %s: want %v, got %v", s.Kind, w.ID, c.name, c.want, c.got)
			}
		}
	})
}

// Points that are a little off give sizes that are a little off.
func TestNoise(t *testing.T) {
	const sigma = 0.01 // mm
	worst, sum, count := 0.0, 0.0, 0.0
	eachFillet(t, 30, func(t *testing.T, s *joints.Section, w *joints.Weld, r *rand.Rand) {
		t.Helper()
		// A hollow face that runs out along a surface has no sharp toe.
		if w.Feet[0].ToeAngle > 160*geometry.Degree || w.Feet[1].ToeAngle > 160*geometry.Degree || w.FaceWidth < 2 {
			return
		}
		move, _ := photograph(r)
		f := newFrame(s, w)
		noise := func() geometry.Point { return geometry.Point{X: sigma * r.NormFloat64(), Y: sigma * r.NormFloat64()} }
		got, faults := recoverProfile(shoot(w, move, 8, 25, noise), &f, &Sizes{})
		if len(faults) > 0 {
			t.Fatalf("%s %s: %v", s.Kind, w.ID, faults)
		}
		if got.Residual > 2*sigma || got.Residual < sigma/4 {
			t.Errorf("%s %s: residual %v of noise %v", s.Kind, w.ID, got.Residual, sigma)
		}
		for _, d := range []float64{got.Legs[0] - float64(w.Feet[0].Leg), got.Legs[1] - float64(w.Feet[1].Leg)} {
			// What moves a toe along its surface is divided by the sine of the
			// face's angle there.
			d *= math.Sin(math.Min(float64(w.Feet[0].ToeAngle), float64(w.Feet[1].ToeAngle)))
			worst, sum, count = math.Max(worst, math.Abs(d)), sum+d*d, count+1
		}
		if d := math.Abs(got.Throat - float64(w.ActualThroat)); d > 6*sigma {
			t.Errorf("%s %s: throat off by %v", s.Kind, w.ID, d)
		}
	})
	if rms := math.Sqrt(sum / count); rms > 2*sigma || worst > 10*sigma {
		t.Errorf("legs off by %v (rms), %v (worst) at noise %v", rms, worst, sigma)
	}
}

// The closed form of the throat against brute force along the face.
func TestThroatTwice(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 300 {
		s := Shape{Psi: geometry.Angle(0.6 + 1.9*r.Float64()), Legs: [2]float64{2 + 6*r.Float64(), 2 + 6*r.Float64()}}
		s.Rise = (r.Float64() - 0.5) * 0.3 * s.width()
		s.Root = geometry.Point{X: 0.4 * (r.Float64() - 0.7), Y: 0.4 * r.Float64()}
		least := math.Inf(1)
		face := s.Face()
		for i := range 4001 {
			least = math.Min(least, face.At(float64(i)/4000).Dist(s.Root))
		}
		if got := s.throat(); math.Abs(got-least) > 1e-4 || got > least+1e-12 {
			t.Errorf("%+v: want %v, got %v", s, least, got)
		}
		// The flat case in closed form.
		s.Rise, s.Root = 0, geometry.Point{}
		flat := s.Legs[0] * s.Legs[1] * math.Sin(float64(s.Psi)) / s.width()
		inside := s.Legs[0] >= s.Legs[1]*math.Cos(float64(s.Psi)) && s.Legs[1] >= s.Legs[0]*math.Cos(float64(s.Psi))
		if got := s.throat(); inside && math.Abs(got-flat) > 1e-12*flat {
			t.Errorf("%+v: flat throat %v, closed form %v", s, got, flat)
		}
	}
}

// text writes points as a record does.
func text(points []geometry.Point) string {
	words := make([]string, len(points))
	for i, p := range points {
		words[i] = fmt.Sprintf("%.17g,%.17g", p.X, p.Y)
	}
	return strings.Join(words, " ")
}

// Through the text of a record, points come back as the plan, and the other
// way round is refused.
func TestProfileRecord(t *testing.T) {
	s := tee(t, joints.Tee{Base: plate(8), Stem: plate(5), Gap: 0.4, Arrow: &joints.Fillet{Legs: [2]geometry.Length{5, 4}, Face: joints.FaceConcave, Rise: 0.3, Penetration: 0.6}})
	w := &s.Welds[0]
	p := shoot(w, geometry.Scale(20).Then(geometry.MirrorY()), 3, 9, still)
	lines := map[string]string{
		"sample": "S1", "scale": "0.05", "surface-a": text(p.SurfaceA), "surface-b": text(p.SurfaceB), "face": text(p.Face), "root": text(p.Root),
	}
	read := func(change map[string]string) (Record, error) {
		var args []string
		for _, name := range []string{"sample", "scale", "surface-a", "surface-b", "face", "root", "legs", "gap"} {
			v, ok := change[name]
			if !ok {
				v = lines[name]
			}
			if v != "" {
				args = append(args, name+"="+v)
			}
		}
		return Read(Source{Assignments: args, Section: s})
	}
	rec, err := read(nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, v := range map[string][2]float64{
		"leg a": {5, float64(rec.Sizes.Legs[0].Value)}, "leg b": {4, float64(rec.Sizes.Legs[1].Value)}, "convexity": {-0.3, float64(rec.Sizes.Convexity.Value)},
		"throat": {float64(w.ActualThroat), float64(rec.Sizes.Throat.Value)}, "penetration": {0.6, float64(rec.Sizes.Penetration.Value)},
	} {
		if math.Abs(v[0]-v[1]) > 1e-6 {
			t.Errorf("%s: want %v, got %v", name, v[0], v[1])
		}
	}
	back := make([]geometry.Point, 0, len(p.Face))
	for i := range p.Face {
		back = append(back, p.Face[len(p.Face)-1-i])
	}
	mixed := append([]geometry.Point{p.Face[0], p.Face[6]}, p.Face[1:]...)
	for name, tt := range map[string]struct {
		change map[string]string
		code   joints.FaultCode
		field  string
	}{
		"face the other way round": {map[string]string{"face": text(back)}, FaultOrder, "face"},
		"face runs back":           {map[string]string{"face": text(mixed)}, FaultOrder, "face"},
		"too few on the face":      {map[string]string{"face": text(p.Face[:2])}, FaultTooFew, "face"},
		"too few on a surface":     {map[string]string{"surface-b": text(p.SurfaceB[:1])}, FaultTooFew, "surface-b"},
		"one spot":                 {map[string]string{"surface-a": "1,1 1,1"}, FaultTooFew, "surface-a"},
		"parallel surfaces":        {map[string]string{"surface-b": text(p.SurfaceA)}, joints.FaultConflict, "surface-b"},
		"no scale":                 {map[string]string{"scale": ""}, joints.FaultMissing, "scale"},
		"no surface":               {map[string]string{"surface-a": ""}, joints.FaultMissing, "surface-a"},
		"wrong scale":              {map[string]string{"scale": "50"}, joints.FaultRange, "scale"},
		"half a face":              {map[string]string{"face": text(p.Face[:4])}, joints.FaultConflict, "face"},
		"legs besides":             {map[string]string{"legs": "5,4"}, joints.FaultConflict, "legs"},
		"scale alone":              {map[string]string{"surface-a": "", "surface-b": "", "face": "", "root": "", "legs": "5,4"}, joints.FaultConflict, "scale"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := read(tt.change)
			if faults := jointfile.AsFaults(err); !faults.Has(tt.code, tt.field) {
				t.Errorf("want %s of %s, got %v", tt.code, tt.field, err)
			}
		})
	}
}
