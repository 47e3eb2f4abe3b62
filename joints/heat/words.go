package heat

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fay/joints"
)

// lapWarning is the part of a plate's edge that a leg may stand on before its
// corner is likely to wash away (fay's own choice).
const lapWarning = 0.8

// Degrees prints a temperature in whole °C, and on wish in whole °F beside it.
func Degrees(t float64, fahrenheit bool) string {
	whole := func(v float64) string { return strconv.FormatFloat(math.Round(v)+0, 'f', -1, 64) }
	text := whole(t) + " °C"
	if fahrenheit {
		text += " (" + whole(ToFahrenheit(t)) + " °F)"
	}
	return text
}

// ToFahrenheit is a temperature in °C as °F.
func ToFahrenheit(t float64) float64 { return 1.8*t + 32 }

// FromFahrenheit is a temperature in °F as °C.
func FromFahrenheit(t float64) float64 { return (t - 32) / 1.8 }

func (j *joint) degrees(t float64) string { return Degrees(t, j.in.Fahrenheit) }

func percent(x float64) string { return strconv.FormatFloat(math.Round(100*x), 'f', -1, 64) + " %" }

// watts rounds to three digits: no more is known.
func watts(p float64) string { return round3(p) + " W" }

func round3(x float64) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	d := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-2)
	return strconv.FormatFloat(math.Round(x/d)*d, 'f', max(0, -int(math.Floor(math.Log10(d)+1e-9))), 64)
}

// words puts the answer in a welder's words.
func (j *joint) words(r *Result) {
	add := func(format string, a ...any) { r.Lines = append(r.Lines, fmt.Sprintf(format, a...)) }
	a, b := r.Members[0], r.Members[1]
	first, other := a, b
	if b.AimShare > a.AimShare {
		first, other = b, a
	}
	share := fmt.Sprintf("the %s takes %s of the arc", first.Name, percent(first.AimShare))
	switch r.Index.Class {
	case Even:
		add("%s, as on equal plates: aim as usual", share)
	case Favour:
		add("%s: favour the %s", share, r.Index.Favour)
	default:
		add("%s: favour the %s strongly, and expect the leg on it to stay cold or the %s to melt away first",
			share, r.Index.Favour, j.lighter(r))
	}
	if a.LongRun+b.LongRun > 0 {
		add("in the end %s of the heat lies in the %s and %s in the %s",
			percent(first.LongRun), first.Name, percent(other.LongRun), other.Name)
	}
	add("the root melts at about %s in the work: %s to %s of arc, nominally %s, which is %s A at %s V",
		watts(r.Root.Net), round3(r.Root.Arc.Low), watts(r.Root.Arc.High), watts(r.Root.Arc.Nominal),
		round3(r.Root.Amps.Nominal), round3(r.Root.Volts))
	switch r.Machine {
	case Yes:
		add("the machine is big enough")
	case Perhaps:
		add("the machine may be too small: %s to %s A are asked for, as the arc's efficiency turns out", round3(r.Root.Amps.Low), round3(r.Root.Amps.High))
	case No:
		add("the machine is too small: at least %s A are asked for", round3(r.Root.Amps.Low))
	}
	if g := r.Given; g != nil {
		says := map[Enough]string{Yes: "melts the root", Perhaps: "may melt the root, as the arc's efficiency turns out", No: "does not melt the root"}
		add("%s A at %s V %s", round3(g.Amps), round3(g.Volts), says[g.Melts])
	}
	add("heat input of the %s: %s J/mm, %s J/in (without efficiency %s J/mm, %s J/in)", r.Heat.Of,
		round3(r.Heat.NetJPerMM), round3(r.Heat.NetJPerIn), round3(r.Heat.ArcJPerMM), round3(r.Heat.ArcJPerIn))
	if r.Filler.Power > 0 {
		add("the filler takes %s of that", watts(r.Filler.Power))
	}
	if r.Filler.Floor > r.Root.Net {
		add("laying this much metal takes at least %s in the work: that governs, not the root", watts(r.Filler.Floor))
	}
	j.preheatWords(r, add)
	if x := r.T85; x != nil {
		add("steel cools from %s to %s in %s s (EN 1011-2, %s)", strings.TrimSuffix(j.degrees(800), " °C"), j.degrees(500), round3(x.Seconds), x.Regime)
	}
	if w := r.WarmUp; w != nil {
		add("by the end of the seam the whole part is near %s", j.degrees(w.Final))
	}
	j.cautions(r)
}

// lighter is the member that is not favoured.
func (j *joint) lighter(r *Result) string {
	if r.Index.Favour == j.name(0) {
		return j.name(1)
	}
	return j.name(0)
}

func (j *joint) preheatWords(r *Result, add func(string, ...any)) {
	p := &r.Preheat
	switch {
	case !p.Needed:
	case p.Ceiling == nil:
		add("preheating the %s alone to %s would balance the joint; no ceiling for this metal is on file", p.Heavy, j.degrees(p.Balance))
	case p.Within:
		add("preheating the %s alone to %s would balance the joint, under the ceiling of %s", p.Heavy, j.degrees(p.Balance), j.degrees(p.Ceiling.Preheat))
	default:
		add("preheat cannot balance it: that would take %s and the ceiling is %s, which brings the index from %s to %s; aim, a bevel, thinning or a chill do the rest",
			j.degrees(p.Balance), j.degrees(p.Ceiling.Preheat), round3(r.Index.Value), round3(p.IndexAtCeiling))
	}
	if p.Ceiling != nil {
		for _, n := range p.Ceiling.Notes {
			add("%s: %s", p.Heavy, n)
		}
	}
	r.Lines = append(r.Lines, p.Warnings...)
}

// The cautions, in fay's words.
const (
	cautionEstimate   = "Conduction estimate. Arc efficiency alone moves the power by about ±25 %; run a test piece."
	cautionStart      = "Assumes steady travel; at starts the metal is colder and the thin side still overheats first."
	cautionOxide      = "Aluminium: oxide and lack of cleaning can stop fusion at any power."
	cautionFaces      = "Root result assumes faces touch as stated; a gap removes the path."
	cautionT85        = "t8/5: EN 1011-2 formula, unalloyed and low-alloy steel only, T0 < 500 °C."
	cautionCeiling    = "Preheat value is a ceiling, not a target; 5xxx above 3 % Mg: avoid lingering at 66-204 °C."
	cautionCeilingUS  = "Preheat value is a ceiling, not a target; 5xxx above 3 % Mg: avoid lingering at 66-204 °C (150-400 °F)."
	cautionRough      = "Root power of grooves, edges, open corners and joints of more than three ways is rough in closed form (0.3 to 1.6 times the field's in trials): use the field."
	cautionDissimilar = "Different metals: root power of the closed form was off by up to a quarter against finite elements; whether the metals can be welded to each other at all is another question."
	cautionProtect    = "Arc light, fumes and hot metal hurt: protect eyes, skin and lungs; the local code and a qualified procedure decide, not this estimate."
)

func (j *joint) cautions(r *Result) {
	c := []string{cautionEstimate, cautionStart}
	aluminium := false
	for f := range 2 {
		if j.member(f).Material.Family == Aluminium {
			aluminium = true
		}
	}
	if aluminium {
		ceiling := cautionCeiling
		if j.in.Fahrenheit {
			ceiling = cautionCeilingUS
		}
		c = append(c, cautionOxide, ceiling)
	}
	c = append(c, cautionFaces)
	if r.T85 != nil {
		c = append(c, cautionT85)
	}
	if !j.checked() {
		c = append(c, cautionRough)
	}
	if j.dissimilar() {
		c = append(c, cautionDissimilar)
	}
	for f, foot := range j.weld.Feet {
		if foot.OnEdge && j.weld.Kind == joints.FilletWeld && float64(foot.Leg) >= lapWarning*float64(j.thickness(f))*(1-1e-9) {
			c = append(c, fmt.Sprintf("The leg stands on %s of the %s's edge: its corner is likely to wash away before the root melts.",
				percent(float64(foot.Leg)/float64(j.thickness(f))), j.name(f)))
		}
	}
	c = append(c, cautionProtect)
	r.Cautions = c
}

func (j *joint) dissimilar() bool {
	a, b := &j.member(0).Material, &j.member(1).Material
	return a.Conductivity != b.Conductivity || a.volumetric() != b.volumetric()
}
