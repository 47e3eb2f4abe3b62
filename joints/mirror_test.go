package joints_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointstest"
)

// mirrors turn an input into its mirror image, left for right. Kinds whose
// two ends are not alike, or that are mirrored by turning over, are not here.
var mirrors = map[string]func(joints.Input) joints.Input{
	"tee": func(in joints.Input) joints.Input {
		in.Values = copied(in.Values)
		if v, ok := in.Values["angle"]; ok {
			v.Number = math.Pi - v.Number
			in.Values["angle"] = v
		}
		in.Welds = map[string]map[string]joints.Value{}
		return in
	},
	"butt": func(in joints.Input) joints.Input {
		in.Plates = map[string]joints.PlateInput{"left": in.Plates["right"], "right": in.Plates["left"]}
		in.Values = copied(in.Values)
		if v, ok := in.Values["hi-lo"]; ok {
			v.Number = -v.Number
			in.Values["hi-lo"] = v
		}
		side := joints.Value{Text: "left", Choice: "left"}
		if v, ok := in.Values["prepared"]; ok && v.Choice == "left" {
			side = joints.Value{Text: "right", Choice: "right"}
		}
		if prep := in.Values["prep"].Choice; slices.Contains([]string{"single-bevel", "single-j", "double-bevel", "double-j"}, prep) {
			in.Values["prepared"] = side
		}
		for name, v := range in.Values {
			in.Values[name] = swapped(v)
		}
		welds := map[string]map[string]joints.Value{}
		for id, values := range in.Welds {
			welds[id] = copied(values)
			for name, v := range welds[id] {
				welds[id][name] = swapped(v)
			}
		}
		in.Welds = welds
		return in
	},
}

func copied(m map[string]joints.Value) map[string]joints.Value {
	out := map[string]joints.Value{}
	maps.Copy(out, m)
	return out
}

// swapped turns a pair of values round.
func swapped(v joints.Value) joints.Value {
	if len(v.List) == 2 {
		v.List = []float64{v.List[1], v.List[0]}
		v.Number = v.List[0]
	}
	return v
}

// A mirrored joint has the same welds, mirrored.
func TestMirroredJoints(t *testing.T) {
	for name, mirror := range mirrors {
		t.Run(name, func(t *testing.T) {
			k, _ := joints.LookupKind(name)
			r := rand.New(rand.NewPCG(5, 5))
			built := 0
			for range lawCount(t, name) / 4 {
				s, in, ok := jointstest.Section(k, r)
				if !ok {
					t.Fatal("200 random inputs in a row were refused")
				}
				image := mirror(in)
				if name == "tee" {
					if prep := in.Values["prep"].Choice; prep != "" && prep != "none" {
						continue // the single preparations are cut on the arrow side
					}
					for id, values := range in.Welds {
						image.Welds[map[string]string{"arrow": "other", "other": "arrow"}[id]] = values
					}
				}
				m, err := joints.Build(image)
				if err != nil {
					t.Fatalf("%+v: %v", in, err)
				}
				built++
				for i := range s.Welds {
					a := &s.Welds[i]
					id := a.ID
					if name == "tee" {
						id = map[string]string{"arrow": "other", "other": "arrow"}[id]
					}
					b, ok := m.Weld(id)
					if !ok {
						t.Fatalf("no weld %s in the mirror image of %+v", id, in)
					}
					for what, pair := range map[string][2]float64{
						"area":             {a.Area, b.Area},
						"deposited":        {a.DepositedArea, b.DepositedArea},
						"effective throat": {float64(a.EffectiveThroat), float64(b.EffectiveThroat)},
						"actual throat":    {float64(a.ActualThroat), float64(b.ActualThroat)},
						"face width":       {float64(a.FaceWidth), float64(b.FaceWidth)},
					} {
						if !near(pair[0], pair[1], 1e-8) {
							t.Fatalf("%s of %s: %v, mirrored %v: %+v", what, a.ID, pair[0], pair[1], in)
						}
					}
				}
			}
			if built < 50 {
				t.Errorf("only %d joints were mirrored", built)
			}
		})
	}
}

// More angle, opening or depth never means less metal.
func TestGrooveGrows(t *testing.T) {
	grow := map[string]func(*joints.Butt){
		"angle":   func(p *joints.Butt) { p.Flank.Bevel[0] += 2 * geometry.Degree; p.Flank.Bevel[1] += 2 * geometry.Degree },
		"opening": func(p *joints.Butt) { p.RootOpening += 0.3 },
		"depth":   func(p *joints.Butt) { p.Flank.Depth += 0.3 },
	}
	r := rand.New(rand.NewPCG(6, 6))
	for range 2000 {
		bevel := geometry.Angle(10+40*r.Float64()) * geometry.Degree
		p := joints.Butt{Left: plate(8 + 8*r.Float64()), Right: plate(8 + 8*r.Float64()), Prep: joints.PrepSingleV,
			RootOpening: geometry.Length(3 * r.Float64()), Flank: joints.Flank{Bevel: [2]geometry.Angle{bevel, bevel}, Depth: geometry.Length(2 + 4*r.Float64())},
			Arrow: &joints.Groove{}}
		s := mustButt(t, p)
		for name, change := range grow {
			q := p
			change(&q)
			more := mustButt(t, q)
			if more.Welds[0].GrooveArea <= s.Welds[0].GrooveArea {
				t.Fatalf("more %s: %v after %v: %+v", name, more.Welds[0].GrooveArea, s.Welds[0].GrooveArea, p)
			}
		}
	}
}
