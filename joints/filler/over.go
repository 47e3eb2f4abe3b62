package filler

import (
	"fmt"
	"maps"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// OneOver is what the joint takes more when every weld is laid one size over
// the plan: differences, never negative in practice.
type OneOver struct {
	StepMM float64 `json:"step_mm"`
	What   string  `json:"what,omitempty"` // what grew
	// None says why nothing can be told; the rest is then absent.
	None string `json:"none,omitempty"`

	DepositedAreaMM2 *float64 `json:"deposited_area_mm2,omitempty"` // one size over, not a difference
	MoreShare        *float64 `json:"more_share,omitempty"`         // of the planned metal, as a fraction
	ConsumedKgPerM   *float64 `json:"consumed_kg_per_m,omitempty"`
	BoughtKgPerM     *float64 `json:"bought_kg_per_m,omitempty"`
	RodsPerM         *float64 `json:"rods_per_m,omitempty"`
	WireMPerM        *float64 `json:"wire_m_per_m,omitempty"`
	Passes           *int     `json:"passes,omitempty"`
	ArcTimeMinPerM   *float64 `json:"arc_time_min_per_m,omitempty"`
	CostPerM         *float64 `json:"cost_per_m,omitempty"`
	ConsumedKgTotal  *float64 `json:"consumed_kg_total,omitempty"` // of all parts, or of one
	BoughtKgTotal    *float64 `json:"bought_kg_total,omitempty"`
	RodsTotal        *float64 `json:"rods_total,omitempty"`
	WireMTotal       *float64 `json:"wire_m_total,omitempty"`
	ArcTimeMinTotal  *float64 `json:"arc_time_min_total,omitempty"`
	CostTotal        *float64 `json:"cost_total,omitempty"`
	// TimeEstimated says that no deposition rate is known, so that arc time, and
	// gas and labour with it, grow as the metal does: the rod fed as fast as for
	// the plan.
	TimeEstimated bool `json:"time_estimated,omitempty"`
}

// over computes the joint one size over and takes the plan off.
func (f *Filler) over(c *chain, o *Over) *OneOver {
	out := &OneOver{StepMM: o.Step.Millimetres(), What: o.What, None: o.None}
	if o.None != "" {
		return out
	}
	c.plan = c.p.Welds
	g := c.filler(o.Welds, o.Runs)
	g.buy(c)
	parts := float64(max(c.p.Quantity, 1))
	less := func(a, b *float64, times float64) *float64 {
		if a == nil || b == nil {
			return nil
		}
		return new((*a - *b) * times)
	}
	out.DepositedAreaMM2 = &g.DepositedAreaMM2
	out.MoreShare = new(g.DepositedAreaMM2/f.DepositedAreaMM2 - 1)
	out.ConsumedKgPerM, out.BoughtKgPerM = less(g.ConsumedKgPerM, f.ConsumedKgPerM, 1), less(g.BoughtKgPerM, f.BoughtKgPerM, 1)
	out.RodsPerM, out.WireMPerM = less(g.RodsPerM, f.RodsPerM, 1), less(g.WireMPerM, f.WireMPerM, 1)
	out.ArcTimeMinPerM = less(g.ArcTimeMinPerM, f.ArcTimeMinPerM, 1)
	out.TimeEstimated = out.ArcTimeMinPerM != nil && !c.byMass()
	if g.Passes != nil {
		out.Passes = new(*g.Passes - *f.Passes)
	}
	out.ConsumedKgTotal, out.BoughtKgTotal = less(g.ConsumedKgPerSeam, f.ConsumedKgPerSeam, parts), less(g.BoughtKgPerSeam, f.BoughtKgPerSeam, parts)
	out.RodsTotal, out.WireMTotal = less(g.RodsPerSeam, f.RodsPerSeam, parts), less(g.WireMPerSeam, f.WireMPerSeam, parts)
	out.ArcTimeMinTotal = less(g.ArcTimeMin, f.ArcTimeMin, parts)
	if f.Cost != nil && g.Cost != nil {
		out.CostPerM = new(g.Cost.PerM - f.Cost.PerM)
		out.CostTotal = less(g.Cost.PerPart, f.Cost.PerPart, parts)
	}
	return out
}

// grown is a way to lay welds larger: what it grows, and on which feet.
type grown struct {
	name string
	feet [2]bool
}

// ways are tried in turn: a leg on a member's edge cannot always grow.
var ways = []grown{{"legs", [2]bool{true, true}}, {"leg on the continuous member", [2]bool{true, false}}, {"leg on the abutting member", [2]bool{false, true}}}

// OneSizeOver builds a joint again with every fillet leg a step larger; where
// it has no fillet, with the caps of its grooves a step higher. It returns the
// section and what grew. The error says why there is none.
func OneSizeOver(in joints.Input, planned *joints.Section, step geometry.Length) (joints.Section, string, error) {
	var first error
	for _, way := range ways {
		larger, what := enlarge(in, planned, step, way)
		if what == "" {
			break
		}
		s, err := joints.Build(larger)
		if err == nil {
			return s, what, nil
		}
		if first == nil {
			first = err
		}
	}
	if raised, what := raise(in, planned, step); what != "" && first == nil {
		s, err := joints.Build(raised)
		if err == nil {
			return s, what, nil
		}
		first = err
	}
	if first == nil {
		return joints.Section{}, "", fmt.Errorf("no weld of the %s joint has a leg or a cap", in.Kind)
	}
	return joints.Section{}, "", first
}

// enlarge returns the input with larger legs, and in words what is larger;
// empty words where no weld has a leg.
func enlarge(in joints.Input, planned *joints.Section, step geometry.Length, way grown) (joints.Input, string) {
	var ids []string
	larger := change(in, planned, func(w *joints.Weld, values map[string]joints.Value) bool {
		if w.Feet[0].Leg == 0 || w.Feet[1].Leg == 0 || !sized(values) {
			return false
		}
		legs := []float64{float64(w.Feet[0].Leg), float64(w.Feet[1].Leg)}
		for i := range legs {
			if way.feet[i] {
				legs[i] += float64(step)
			}
		}
		delete(values, "throat")
		delete(values, "gauge-leg")
		values["leg"] = joints.Value{Text: showAll(legs), Number: legs[0], List: legs}
		ids = append(ids, w.ID)
		return true
	})
	return larger, words(way.name+" ", " weld larger", ids, " welds larger")
}

// sizes are the parameters that size a fillet.
var sizes = []string{"leg", "throat", "gauge-leg"}

func sized(values map[string]joints.Value) bool {
	for _, name := range sizes {
		if _, ok := values[name]; ok {
			return true
		}
	}
	return false
}

// raise returns the input with higher caps.
func raise(in joints.Input, planned *joints.Section, step geometry.Length) (joints.Input, string) {
	kind, ok := joints.LookupKind(in.Kind)
	if !ok {
		return in, ""
	}
	var ids []string
	raised := change(in, planned, func(w *joints.Weld, values map[string]joints.Value) bool {
		slot, ok := kind.Slot(w.ID)
		if !ok {
			return false
		}
		if _, ok := slot.Param("cap"); !ok {
			return false
		}
		v := values["cap"].Number + float64(step)
		values["cap"] = joints.Value{Text: show(v, "mm"), Number: v}
		ids = append(ids, w.ID)
		return true
	})
	return raised, words("cap ", " weld higher", ids, " welds higher")
}

// change copies the input and changes the welds of the section.
func change(in joints.Input, planned *joints.Section, f func(w *joints.Weld, values map[string]joints.Value) bool) joints.Input {
	in.Welds = maps.Clone(in.Welds)
	for i := range planned.Welds {
		w := &planned.Welds[i]
		given, ok := in.Welds[w.ID]
		if !ok {
			continue
		}
		if values := maps.Clone(given); values != nil && f(w, values) {
			in.Welds[w.ID] = values
		}
	}
	return in
}

func words(before, one string, ids []string, several string) string {
	switch len(ids) {
	case 0:
		return ""
	case 1:
		return before + "of the " + ids[0] + one
	}
	return before + "of the " + strings.Join(ids, " and ") + several
}

func showAll(v []float64) string {
	out := make([]string, len(v))
	for i := range v {
		out[i] = strconv.FormatFloat(v[i], 'g', 6, 64)
	}
	return "[" + strings.Join(out, ", ") + "]"
}
