// Package jointstest makes joints for the tests of other packages.
package jointstest

import (
	"math/rand/v2"
	"strconv"

	"fay/geometry"
	"fay/joints"
)

// Random draws an input of the kind with values a shop meets from day to day.
// It reads the kind's own description, so that a new kind is drawn without a
// change here. Not every drawn joint can be built: legs and gaps are drawn
// independently of the plates.
func Random(k *joints.Kind, r *rand.Rand) joints.Input {
	in := joints.Input{
		Kind:   k.Name,
		Plates: map[string]joints.PlateInput{},
		Values: map[string]joints.Value{},
		Welds:  map[string]map[string]joints.Value{},
	}
	for _, m := range k.Members {
		in.Plates[m.Name] = joints.PlateInput{Thickness: lengthValue(1 + 11*r.Float64())}
	}
	drawInto(in.Values, k.Params, r)
	// What does not apply to the choices drawn is left out again.
	prune := func(values map[string]joints.Value, params []joints.Param) {
		for i := range params {
			p := &params[i]
			if p.With == nil {
				continue
			}
			made, ok := in.Values[p.With.Choice]
			if !ok {
				choice, _ := k.Param(p.With.Choice)
				made.Choice = choice.Default
			}
			if !p.With.Holds(made.Choice) {
				delete(values, p.Name)
			}
		}
	}
	prune(in.Values, k.Params)
	for i := range k.Welds {
		slot := &k.Welds[i]
		if i > 0 && r.IntN(2) == 0 {
			continue
		}
		values := map[string]joints.Value{}
		drawInto(values, slot.Params, r)
		prune(values, slot.Params)
		in.Welds[slot.ID] = values
	}
	return in
}

// Section draws inputs of the kind until one can be built. Kinds whose random
// inputs are almost always refused are a mistake of their description, which
// tests of the kinds table report; the returned bool is false then.
func Section(k *joints.Kind, r *rand.Rand) (joints.Section, joints.Input, bool) {
	for range 200 {
		in := Random(k, r)
		if s, err := joints.Build(in); err == nil {
			return s, in, true
		}
	}
	return joints.Section{}, joints.Input{}, false
}

func drawInto(values map[string]joints.Value, params []joints.Param, r *rand.Rand) {
	groups := map[string][]*joints.Param{}
	for i := range params {
		p := &params[i]
		switch {
		case p.Group != "":
			groups[p.Group] = append(groups[p.Group], p)
		case p.Needed || r.IntN(3) == 0:
			values[p.Name] = draw(p, r)
		}
	}
	// Map order must not reach the random sequence.
	for i := range params {
		if g := groups[params[i].Group]; len(g) > 0 && g[0] == &params[i] && (g[0].Needed || r.IntN(2) == 0) {
			p := g[r.IntN(len(g))]
			values[p.Name] = draw(p, r)
		}
	}
}

func draw(p *joints.Param, r *rand.Rand) joints.Value {
	span := func() float64 { return p.Usual.Min + (p.Usual.Max-p.Usual.Min)*r.Float64() }
	switch p.Type {
	case joints.ParamChoice:
		c := p.Choices[r.IntN(len(p.Choices))]
		return joints.Value{Text: c, Choice: c}
	case joints.ParamFlag:
		f := r.IntN(2) == 0
		return joints.Value{Text: strconv.FormatBool(f), Flag: f}
	case joints.ParamAngle:
		a := span()
		return joints.Value{Text: strconv.FormatFloat(geometry.Angle(a).Degrees(), 'g', -1, 64), Number: a}
	case joints.ParamAngles:
		a, b := span(), span()
		text := func(v float64) string { return strconv.FormatFloat(geometry.Angle(v).Degrees(), 'g', -1, 64) }
		return joints.Value{Text: text(a) + "," + text(b), Number: a, List: []float64{a, b}}
	case joints.ParamLengths:
		if r.IntN(2) == 0 {
			v := [2]float64{span(), span()}
			return joints.Value{Text: lengthValue(v[0]).Text + "," + lengthValue(v[1]).Text, Number: v[0], List: v[:]}
		}
	}
	return lengthValue(span())
}

func lengthValue(v float64) joints.Value {
	return joints.Value{Text: strconv.FormatFloat(v, 'g', -1, 64), Number: v}
}
