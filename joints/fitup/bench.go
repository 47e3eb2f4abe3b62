package fitup

import (
	"maps"
	"math"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// bench is a joint that is built again and again with other numbers. It owns
// the maps of its input, so that a change copies nothing; it serves one
// goroutine.
type bench struct {
	in   joints.Input
	legs map[string][]float64 // lists handed to the input, one for each weld
	// others are the fillets beside the one looked at that it cannot do without.
	others []joints.Weld
}

func newBench(in joints.Input) *bench {
	b := &bench{in: in, legs: make(map[string][]float64, len(in.Welds))}
	b.in.Plates = make(map[string]joints.PlateInput, len(in.Plates))
	maps.Copy(b.in.Plates, in.Plates)
	b.in.Values = make(map[string]joints.Value, len(in.Values)+1)
	maps.Copy(b.in.Values, in.Values)
	b.in.Welds = make(map[string]map[string]joints.Value, len(in.Welds))
	for id, values := range in.Welds {
		own := make(map[string]joints.Value, len(values)+1)
		maps.Copy(own, values)
		b.in.Welds[id] = own
		b.legs[id] = make([]float64, 2)
	}
	return b
}

func (b *bench) set(name string, v float64) {
	b.in.Values[name] = joints.Value{Text: "given", Number: v}
}

func (b *bench) setThickness(member string, v float64) {
	p := b.in.Plates[member]
	p.Thickness.Number = v
	b.in.Plates[member] = p
}

func (b *bench) setWeld(id, name string, v float64) {
	b.in.Welds[id][name] = joints.Value{Text: "given", Number: v}
}

// setLegs gives a fillet its size as legs, in place of any other size.
func (b *bench) setLegs(id string, onFirst, onSecond float64) {
	values := b.in.Welds[id]
	delete(values, "throat")
	delete(values, "gauge-leg")
	list := b.legs[id]
	list[0], list[1] = onFirst, onSecond
	values["leg"] = joints.Value{Text: "given", Number: onFirst, List: list}
}

// pin gives every fillet the legs of the plan: a fillet asked for by throat
// would follow the opening by itself.
func (b *bench) pin(plan []joints.Weld) {
	for i := range plan {
		w := &plan[i]
		if _, here := b.in.Welds[w.ID]; here && hasLegs(w) {
			b.setLegs(w.ID, float64(w.Feet[0].Leg), float64(w.Feet[1].Leg))
		}
	}
}

// open sets the opening. The fillets that only stand beside are laid so much
// larger that they bridge it: what they can do is looked at apart.
func (b *bench) open(parameter string, opening, planned geometry.Length) {
	b.set(parameter, float64(opening))
	for i := range b.others {
		w := &b.others[i]
		grow := math.Max(0, float64(opening-planned)) / w.Dihedral.Sin()
		b.setLegs(w.ID, float64(w.Feet[0].Leg)+grow, float64(w.Feet[1].Leg)+grow)
	}
}

func hasLegs(w *joints.Weld) bool { return w.Kind == joints.FilletWeld && w.Feet[0].Leg > 0 }

// weld builds the joint and returns one of its welds.
func (b *bench) weld(id string) (joints.Weld, error) {
	welds, err := joints.BuildWelds(b.in)
	if err != nil {
		return joints.Weld{}, err
	}
	for i := range welds {
		if welds[i].ID == id {
			return welds[i], nil
		}
	}
	return joints.Weld{}, unknownWeld(id, welds)
}

// benchFor is the bench of one weld: without the other welds where the joint
// is the same to it without them, so that a gap which one of them cannot
// bridge does not hide what the weld itself can do.
func benchFor(in joints.Input, plan []joints.Weld, w *joints.Weld) *bench {
	alone := in
	alone.Welds = map[string]map[string]joints.Value{w.ID: in.Welds[w.ID]}
	b := newBench(alone)
	got, err := b.weld(w.ID)
	if err != nil || !near(float64(got.EffectiveThroat), float64(w.EffectiveThroat)) || !near(got.DepositedArea, w.DepositedArea) {
		b = newBench(in)
		for i := range plan {
			if plan[i].ID != w.ID && hasLegs(&plan[i]) {
				b.others = append(b.others, plan[i])
			}
		}
	}
	b.pin(plan)
	return b
}

// near tells numbers apart that differ by more than floating point does.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Abs(b)) }

func unknownWeld(id string, welds []joints.Weld) error {
	ids := make([]string, len(welds))
	for i := range welds {
		ids[i] = welds[i].ID
	}
	remedy := "the joint has " + strings.Join(ids, ", ")
	if like := joints.Nearest(id, ids); like != "" && len(id) < 20 {
		remedy = "did you mean " + like + "? " + remedy
	}
	return joints.Faults{{Code: joints.FaultUnknown, Field: "weld", Value: id, Rule: "is not a weld of this joint", Remedy: remedy}}
}

func length(v float64) geometry.Length { return geometry.Length(v) }
