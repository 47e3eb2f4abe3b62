package joints_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
)

// lawCount is how many random joints of a kind the laws are tried on.
func lawCount(t *testing.T, kind string) int {
	t.Helper()
	switch {
	case testing.Short():
		return 400
	case kind == "tee" || kind == "lap":
		return 10000
	}
	return 5000
}

// laws hold for every joint of every kind. Joints are drawn once and held
// against all of them: drawing is most of the work.
var laws = []struct {
	name string
	hold func(t *testing.T, s joints.Section, in joints.Input)
}{
	{"deposit and melted metal make the weld", depositAndMeltedMetalMakeTheWeld},
	{"throats keep their order", throatsKeepTheirOrder},
	{"scaled joints agree", scaledJointsAgree},
	{"throat never grows with gap", throatNeverGrowsWithGap},
	{"the profile holds its points", profileHoldsItsPoints},
}

func TestLaws(t *testing.T) {
	for i := range joints.Kinds {
		k := &joints.Kinds[i]
		t.Run(k.Name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(7, uint64(i)))
			for n := range lawCount(t, k.Name) {
				s, in, ok := jointstest.Section(k, r)
				if !ok {
					t.Fatalf("joint %d: 200 random inputs in a row were refused", n)
				}
				for _, law := range laws {
					law.hold(t, s, in)
					if t.Failed() {
						t.Fatalf("%s: first broken by joint %d: %+v", law.name, n, in)
					}
				}
			}
		})
	}
}

func near(a, b, tol float64) bool {
	return math.Abs(a-b) <= tol*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}

// Deposit, melted metal and the fused profile are integrated along three
// different outlines.
func depositAndMeltedMetalMakeTheWeld(t *testing.T, s joints.Section, _ joints.Input) {
	t.Helper()
	for _, w := range s.Welds {
		if !near(w.Area, w.DepositedArea+w.MeltedBaseArea, 1e-9) {
			t.Errorf("%s: area %v, want deposited %v + melted %v", w.ID, w.Area, w.DepositedArea, w.MeltedBaseArea)
		}
		if w.DepositedArea < 0 || w.MeltedBaseArea < 0 || (w.Kind == joints.FilletWeld && w.DepositedArea == 0) {
			t.Errorf("%s: deposited %v, melted %v", w.ID, w.DepositedArea, w.MeltedBaseArea)
		}
	}
}

func throatsKeepTheirOrder(t *testing.T, s joints.Section, _ joints.Input) {
	t.Helper()
	for _, w := range s.Welds {
		if w.ActualThroat < w.EffectiveThroat*(1-1e-9) {
			t.Errorf("%s: actual throat %v under effective %v", w.ID, w.ActualThroat, w.EffectiveThroat)
		}
		if !w.Proven && w.EffectiveThroat > w.TheoreticalThroat*(1+1e-9) {
			t.Errorf("%s: effective throat %v over theoretical %v without proven penetration", w.ID, w.EffectiveThroat, w.TheoreticalThroat)
		}
		if w.EffectiveThroat <= 0 {
			t.Errorf("%s: effective throat %v", w.ID, w.EffectiveThroat)
		}
	}
}

// Scaling every length by s scales lengths by s and areas by s² and leaves
// angles alone.
func scaledJointsAgree(t *testing.T, s joints.Section, in joints.Input) {
	t.Helper()
	const f = 1.7
	for name, v := range in.Values {
		prefix, isPrep := strings.CutSuffix(name, "prep")
		_, given := in.Values[prefix+"root-radius"]
		if isPrep && !given && (strings.HasSuffix(v.Choice, "u") || strings.HasSuffix(v.Choice, "j")) {
			return // the usual radius is a length of its own
		}
	}
	big, err := joints.Build(scaled(in, f))
	if err != nil {
		return // a range of the input may end before the scaled joint
	}
	for i, w := range s.Welds {
		b := big.Welds[i]
		for _, pair := range [][2]geometry.Length{
			{w.TheoreticalThroat, b.TheoreticalThroat}, {w.EffectiveThroat, b.EffectiveThroat},
			{w.ActualThroat, b.ActualThroat}, {w.FaceWidth, b.FaceWidth},
		} {
			if !near(float64(pair[1]), f*float64(pair[0]), 1e-8) {
				t.Errorf("%s: scaled %v, want %v", w.ID, pair[1], f*float64(pair[0]))
			}
		}
		if !near(b.Area, f*f*w.Area, 1e-8) || !near(b.DepositedArea, f*f*w.DepositedArea, 1e-8) {
			t.Errorf("%s: scaled areas %v and %v, want %v and %v", w.ID, b.Area, b.DepositedArea, f*f*w.Area, f*f*w.DepositedArea)
		}
		for j := range w.Feet {
			if !near(float64(b.Feet[j].ToeAngle), float64(w.Feet[j].ToeAngle), 1e-8) {
				t.Errorf("%s: toe angle %v, want %v", w.ID, b.Feet[j].ToeAngle, w.Feet[j].ToeAngle)
			}
		}
	}
}

func scaled(in joints.Input, f float64) joints.Input {
	k, _ := joints.LookupKind(in.Kind)
	out := joints.Input{Kind: in.Kind, Plates: map[string]joints.PlateInput{}, Values: map[string]joints.Value{}, Welds: map[string]map[string]joints.Value{}}
	for name, p := range in.Plates {
		p.Thickness.Number *= f
		out.Plates[name] = p
	}
	grow := func(p *joints.Param, v joints.Value) joints.Value {
		if p.Type == joints.ParamLength || p.Type == joints.ParamLengths {
			v.Number *= f
			list := make([]float64, len(v.List))
			for i := range v.List {
				list[i] = f * v.List[i]
			}
			v.List = list
		}
		return v
	}
	for name, v := range in.Values {
		p, _ := k.Param(name)
		out.Values[name] = grow(p, v)
	}
	for id, ws := range in.Welds {
		slot, _ := k.Slot(id)
		out.Welds[id] = map[string]joints.Value{}
		for name, v := range ws {
			p, _ := slot.Param(name)
			out.Welds[id][name] = grow(p, v)
		}
	}
	return out
}

// A wider gap never gives more throat, whatever else is the same.
func throatNeverGrowsWithGap(t *testing.T, s joints.Section, in joints.Input) {
	t.Helper()
	k, _ := joints.LookupKind(in.Kind)
	if _, has := k.Param("gap"); !has {
		return
	}
	for id := range in.Welds {
		if _, byThroat := in.Welds[id]["throat"]; byThroat {
			return // the leg follows the gap to keep the throat
		}
	}
	wide := in
	wide.Values = map[string]joints.Value{}
	maps.Copy(wide.Values, in.Values)
	g := wide.Values["gap"]
	g.Number += 0.2
	wide.Values["gap"] = g
	w, err := joints.Build(wide)
	if err != nil {
		return
	}
	for i := range s.Welds {
		if w.Welds[i].EffectiveThroat > s.Welds[i].EffectiveThroat*(1+1e-9) {
			t.Errorf("%s: throat %v grew to %v with the gap", s.Welds[i].ID, s.Welds[i].EffectiveThroat, w.Welds[i].EffectiveThroat)
		}
	}
}

// Members do not overlap each other, and the deposit does not lie inside a
// member: both on the flattened outlines of an independent route.
func profileHoldsItsPoints(t *testing.T, s joints.Section, _ joints.Input) {
	t.Helper()
	for _, w := range s.Welds {
		for _, f := range w.Feet {
			if w.Profile.Distance(f.Toe) > 1e-9 {
				t.Errorf("%s: toe %v is off the profile", w.ID, f.Toe)
			}
			if m := s.Members[f.Member].Outline; m.Distance(f.Toe) > 1e-9 {
				t.Errorf("%s: toe %v is off the surface of the %s", w.ID, f.Toe, s.Members[f.Member].Name)
			}
		}
		if w.Profile.Area() <= 0 {
			t.Errorf("%s: profile must run counter-clockwise", w.ID)
		}
		if l := w.Profile.Locate(w.Profile.Centroid()); l == geometry.OnBoundary {
			t.Errorf("%s: centroid on the boundary", w.ID)
		}
	}
}
