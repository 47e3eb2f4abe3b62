package heat

import (
	"math"

	"fay/geometry"
	"fay/joints"
)

// modelSpread turns the root power of the model into the range that finite
// elements gave, 5th to 95th of a hundred of 240 random joints (own
// computation): three ways (tee and lap), and two (inner corner, after its
// factor).
var modelSpread = map[int]Spread{3: {1 / 1.08, 1, 1 / 0.90}, 2: {1 / 1.07, 1, 1 / 0.91}}

// cornerFactor lifts the root power of a fillet in an inner corner with metal
// behind its root, where the model came out low by this much on the median
// (own computation). An open corner has no metal there.
const cornerFactor = 1.09

// Answer computes the heat of a joint in closed form. The error, if any, is of
// type [joints.Faults].
func Answer(in Input) (Result, error) {
	j, err := in.read()
	if err != nil {
		return Result{}, err
	}
	r := Result{Weld: j.weld.ID, Wet: j.wet / mm}
	alone := [2]float64{j.alone(0), j.alone(1)}
	j.index(&r, j.powersAlone(alone))
	j.root(&r)
	j.lengths(&r)
	r.T85 = j.cooling85(j.netNow(&r), r.Root.Start)
	r.CombinedThickness = j.combinedThickness()
	j.preheat(&r, alone)
	j.warmUp(&r)
	j.words(&r)
	return r, nil
}

// AimShare is the part of the arc that a member is to be given before the pool
// bridges.
type AimShare struct {
	Member string
	Share  float64
}

// AimShares computes the aim of [Answer] and nothing else: of the two members
// the weld stands on, in the order of its feet. The error, if any, is of type
// [joints.Faults].
func AimShares(in Input) ([2]AimShare, error) {
	j, err := in.read()
	if err != nil {
		return [2]AimShare{}, err
	}
	power := j.powersAlone([2]float64{j.alone(0), j.alone(1)})
	shares := aimShares(power)
	return [2]AimShare{{j.name(0), shares[0]}, {j.name(1), shares[1]}}, nil
}

// powersAlone are the net powers, W, that each member needs by itself, from the
// rises it sees.
func (j *joint) powersAlone(alone [2]float64) (power [2]float64) {
	for f := range power {
		m := j.member(f)
		power[f] = (m.Material.Liquidus - m.Preheat) / alone[f]
	}
	return power
}

func aimShares(power [2]float64) [2]float64 {
	total := power[0] + power[1]
	return [2]float64{power[0] / total, power[1] / total}
}

// plainWays are the ways without their book-keeping.
func (j *joint) plainWays() []way {
	w := make([]way, len(j.ways))
	for i := range j.ways {
		w[i] = j.ways[i].way
	}
	return w
}

// alone is the rise, K/W, that a member by itself sees at the leg to be wetted
// with the arc on its root.
func (j *joint) alone(foot int) float64 {
	var ways []way
	for i := range j.ways {
		if j.ways[i].member == j.feet[foot] {
			ways = append(ways, j.ways[i].way)
		}
	}
	m := newModel(ways, source{speed: j.in.Arc.Speed * mm, spot: float64(j.in.Arc.Spot) * mm, radius: j.wet}, 0)
	rise, _ := m.peak()
	return rise
}

// rootSource is the arc on the weld's face as the root sees it.
func (j *joint) rootSource() source {
	s := source{speed: j.in.Arc.Speed * mm, spot: float64(j.in.Arc.Spot) * mm, radius: j.reach, leg: j.leg}
	switch {
	case j.weld.Kind == joints.FilletWeld && len(j.ways) > 2:
		// On the face of a fillet two ways are seen first and all of them later.
		s.wedge = 1 - 2/float64(len(j.ways))
	case j.weld.Kind == joints.GrooveWeld:
		thin := min(float64(j.thickness(0)), float64(j.thickness(1))) * mm
		if j.reach <= thin*(1+1e-9) {
			s.through, s.radius = thin, min(j.reach, thin)
		}
	}
	return s
}

// rootPower is the net power that brings the root from start to melt, W.
func (j *joint) rootPower(start, melt float64) float64 {
	rise, _ := newModel(j.plainWays(), j.rootSource(), 0).peak()
	q := (melt - start) / rise
	if j.weld.Kind == joints.FilletWeld && len(j.ways) == 2 && j.backed() {
		q *= cornerFactor
	}
	return q
}

// backed reports whether there is metal behind the root of a fillet, seen from
// its face.
func (j *joint) backed() bool {
	root := j.weld.JointRoot
	in := root.Sub(j.weld.Feet[0].Toe.Lerp(j.weld.Feet[1].Toe, 0.5)).Unit()
	thin := min(float64(j.thickness(0)), float64(j.thickness(1)))
	p := root.Add(in.Scale(0.3 * thin))
	for f := range 2 {
		if j.in.Section.Members[j.feet[f]].Outline.Locate(p) == geometry.Inside {
			return true
		}
	}
	return false
}

// checked reports whether joints of this shape were among those the model was
// held to.
func (j *joint) checked() bool {
	_, ok := modelSpread[len(j.ways)]
	return ok && j.weld.Kind == joints.FilletWeld && j.backed()
}

// longRun is the share of each section member in the heat finally found: the
// sum over its ways without end of thickness times effusivity. Where every way
// ends, heat capacity decides.
func (j *joint) longRun() map[int]float64 {
	share := map[int]float64{}
	total := 0.0
	for _, open := range []bool{true, false} {
		for i := range j.ways {
			w := &j.ways[i]
			x := w.thickness * math.Sqrt(w.k*w.rc)
			if !open {
				x = w.thickness * w.rc * w.edge
			} else if !w.open {
				continue
			}
			share[w.member] += x
			total += x
		}
		if total > 0 {
			break
		}
	}
	for m := range share {
		share[m] /= total
	}
	return share
}

func (j *joint) index(r *Result, power [2]float64) {
	long := j.longRun()
	share := aimShares(power)
	var thin, thick, count [2]float64
	for f := range 2 {
		m := j.member(f)
		drop := m.Material.Liquidus - m.Preheat
		h := MemberHeat{Name: j.name(f), Thickness: float64(j.thickness(f)), Start: m.Preheat,
			Power: power[f], AimShare: share[f], LongRun: long[j.feet[f]]}
		for i := range j.ways {
			w := &j.ways[i]
			if w.member != j.feet[f] {
				continue
			}
			h.Ways++
			if !w.open {
				h.FreeEdges = append(h.FreeEdges, w.edge/mm)
			} else {
				thin[f] += w.thickness * m.Material.effusivity() * drop
			}
			thick[f] += w.k * drop
		}
		count[f] = float64(h.Ways)
		r.Members[f] = h
	}
	x := Index{Value: power[0] / power[1], Thick: thick[0] / thick[1], Equal: count[0] / count[1]}
	if thin[0] > 0 && thin[1] > 0 {
		x.Thin = thin[0] / thin[1]
	}
	ratio := x.Value / x.Equal
	heavy := 0
	if ratio < 1 {
		ratio, heavy = 1/ratio, 1
	}
	x.Class = Even
	switch {
	case ratio > strongFrom:
		x.Class, x.Favour = Strong, j.name(heavy)
	case ratio >= favourFrom:
		x.Class, x.Favour = Favour, j.name(heavy)
	}
	r.Index = x
	r.Preheat.Heavy = j.name(heavy)
	r.Basis = append(r.Basis,
		Basis{j.name(0) + " constants", j.member(0).Material.Source},
		Basis{j.name(1) + " constants", j.member(1).Material.Source},
		Basis{"demand index and shares", Source{"conduction of each member alone by images, exact for a slab; long-run share by effusivity (own derivation, checked by computation)", Computed}},
		Basis{"classes", classSource})
}

func (j *joint) melt() float64 {
	return max(j.member(0).Material.Liquidus, j.member(1).Material.Liquidus)
}

// startAtRoot is the temperature where members of different preheat meet: the
// mean by what each brings in the long run.
func (j *joint) startAtRoot() float64 {
	long := j.longRun()
	t, total := 0.0, 0.0
	for _, m := range j.members {
		t += long[m] * j.in.Members[m].Preheat
		total += long[m]
	}
	if total == 0 {
		return j.member(0).Preheat
	}
	return t / total
}

func (j *joint) root(r *Result) {
	a := &j.in.Arc
	r.Root = Root{Start: j.startAtRoot(), Melt: j.melt()}
	r.Root.Net = j.rootPower(r.Root.Start, r.Root.Melt)
	if j.checked() {
		s := modelSpread[len(j.ways)]
		r.Root.Model = Spread{r.Root.Net * s.Low, r.Root.Net, r.Root.Net * s.High}
	}
	r.Root.Arc = a.Efficiency.arcPower(r.Root.Net)
	r.Root.Amps = Spread{a.ampsFor(r.Root.Arc.Low), a.ampsFor(r.Root.Arc.Nominal), a.ampsFor(r.Root.Arc.High)}
	r.Root.Volts = a.voltsAt(r.Root.Amps.Nominal)
	if a.Machine > 0 {
		r.Machine = enough(a.Machine, r.Root.Amps)
	}
	if a.Amps > 0 {
		u := a.voltsAt(a.Amps)
		p := u * a.Amps
		e := a.Efficiency
		r.Given = &Given{Amps: a.Amps, Volts: u, Arc: p,
			Net: Spread{p * e.Low, p * e.Nominal, p * e.High}, Melts: enough(p, r.Root.Arc)}
	}
	melted := j.area + j.weld.MeltedBaseArea*mm*mm
	per := j.filler.melting(r.Root.Start) * a.Speed * mm
	r.Filler = Filler{Power: j.area * per, Floor: melted * per / MostMelting}
	for f := range 2 {
		m := &r.Members[f]
		mat := &j.member(f).Material
		m.Tau = RelativeThickness(m.Thickness, mat.volumetric(), max(0.75*mat.Liquidus, m.Start+1), m.Start, r.Root.Net/a.Speed)
		m.Regime = RegimeOf(m.Tau)
	}
	r.Basis = append(r.Basis,
		Basis{"root power", Source{"one-integral sum of ways; 5 to 95 % of 240 random joints of six metals lie within the model range of finite elements (own computation): fillets of tees, laps and closed inner corners; no other joints were among them", Computed}},
		Basis{"arc efficiency", a.Efficiency.Source},
		Basis{"relative thickness", adams})
	if a.Volts == 0 {
		r.Basis = append(r.Basis, Basis{"arc voltage", a.LoadLine.Source})
	}
}

// enough compares what there is with a need that is a range.
func enough(have float64, need Spread) Enough {
	switch {
	case have >= need.High:
		return Yes
	case have < need.Low:
		return No
	}
	return Perhaps
}

// netNow is the net power the seam is made with: of the arc set, or what the
// root needs.
func (j *joint) netNow(r *Result) float64 {
	if r.Given != nil {
		return r.Given.Net.Nominal
	}
	return r.Root.Net
}

const inch = 25.4

func (j *joint) lengths(r *Result) {
	p := PerLength{Of: "power for the root", ArcJPerMM: r.Root.Arc.Nominal / j.in.Arc.Speed}
	if r.Given != nil {
		p.Of, p.ArcJPerMM = "arc as set", r.Given.Arc/j.in.Arc.Speed
	}
	p.NetJPerMM = p.ArcJPerMM * j.in.Arc.Efficiency.Nominal
	p.ArcJPerIn, p.NetJPerIn = p.ArcJPerMM*inch, p.NetJPerMM*inch
	r.Heat = p
}

func (j *joint) preheat(r *Result, alone [2]float64) {
	heavy := 0
	if r.Index.Value < r.Index.Equal {
		heavy = 1
	}
	m := j.member(heavy)
	p := &r.Preheat
	// Power of the heavy member alone over what even plates would ask of it.
	excess := r.Index.Value / r.Index.Equal
	if heavy == 1 {
		excess = 1 / excess
	}
	p.Needed = r.Index.Class != Even
	p.Balance = m.Material.Liquidus - (m.Material.Liquidus-m.Preheat)/excess
	if ceiling, ok := CeilingOf(m.Material); ok {
		p.Ceiling = &ceiling
		p.Within = p.Balance <= ceiling.Preheat
		powers := [2]float64{r.Members[0].Power, r.Members[1].Power}
		powers[heavy] = (m.Material.Liquidus - max(ceiling.Preheat, m.Preheat)) / alone[heavy]
		p.IndexAtCeiling = powers[0] / powers[1]
		p.PowerAtCeiling = r.Root.Net * (r.Root.Melt - max(ceiling.Preheat, r.Root.Start)) / (r.Root.Melt - r.Root.Start)
		r.Basis = append(r.Basis, Basis{"preheat ceiling", ceiling.Source})
	}
	for f := range 2 {
		x := j.member(f)
		if c, ok := CeilingOf(x.Material); ok && x.Preheat > c.Preheat {
			p.Warnings = append(p.Warnings, j.name(f)+": "+j.degrees(x.Preheat)+" is over the ceiling of "+j.degrees(c.Preheat))
		}
	}
}

func (j *joint) warmUp(r *Result) {
	if j.in.Length == 0 {
		return
	}
	mass, capacity, start := 0.0, 0.0, 0.0
	for i := range j.in.Members {
		m := &j.in.Members[i]
		if m.Mass == 0 {
			return
		}
		mass += m.Mass
		capacity += m.Mass * m.Material.HeatCapacity
		start += m.Mass * m.Material.HeatCapacity * m.Preheat
	}
	rise := j.netNow(r) * float64(j.in.Length) / j.in.Arc.Speed / capacity
	r.WarmUp = &WarmUp{Rise: rise, Final: start/capacity + rise, Mass: mass}
}
