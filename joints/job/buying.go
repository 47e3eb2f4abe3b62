package job

import (
	"math"

	"fay/joints/filler"
)

// Form is what filler is sold as.
type Form string

// The forms.
const (
	Rod  Form = "rod"
	Wire Form = "wire"
)

// Metal tells fillers apart that are bought apart. Lengths are in mm.
type Metal struct {
	Name     string // empty: the joints name none
	Form     Form
	Diameter float64
	Length   float64 // cut length of rods, 0 of wire
}

// Use is what all parts of one joint take of a metal.
type Use struct {
	Metal     Metal
	VolumeCm3 float64 // deposited
	// Masses are known where the density is: Weighed.
	Weighed                           bool
	DepositedKg, ConsumedKg, BoughtKg float64
	Rods                              float64 // not rounded
	RodKg                             float64 // of one whole rod
	WireM                             float64
	// Packs the metal is sold in: the cheapest where all have a price, else
	// the first.
	Packs []filler.Pack
}

// UseOf is what a joint takes, given its filler for one part and how many parts
// there are; false where the joint has no seam.
func UseOf(name string, f *filler.Filler, parts int, packs []filler.Pack) (Use, bool) {
	if f.VolumeCm3PerSeam == nil {
		return Use{}, false
	}
	n := float64(max(parts, 1))
	of := func(v *float64) float64 {
		if v == nil {
			return 0
		}
		return *v * n
	}
	u := Use{
		Metal: Metal{Name: name}, VolumeCm3: of(f.VolumeCm3PerSeam), Weighed: f.DepositedKgPerSeam != nil,
		DepositedKg: of(f.DepositedKgPerSeam), ConsumedKg: of(f.ConsumedKgPerSeam), BoughtKg: of(f.BoughtKgPerSeam),
		Rods: of(f.RodsPerSeam), WireM: of(f.WireMPerSeam), Packs: packs,
	}
	switch {
	case f.RodDiameterMM != nil:
		u.Metal.Form, u.Metal.Diameter, u.Metal.Length = Rod, *f.RodDiameterMM, *f.RodLengthMM
		if f.DensityGPerCm3 != nil {
			// mm³ × g/cm³ is a millionth of a kilogram.
			u.RodKg = math.Pi / 4 * u.Metal.Diameter * u.Metal.Diameter * u.Metal.Length * *f.DensityGPerCm3 / 1e6
		}
	case f.WireDiameterMM != nil:
		u.Metal.Form, u.Metal.Diameter = Wire, *f.WireDiameterMM
	}
	return u, true
}

// Item is one line of a buying list. What is not known is nil.
type Item struct {
	Filler      string   `json:"filler,omitempty"`
	Form        Form     `json:"form,omitempty"`
	DiameterMM  float64  `json:"diameter_mm"`
	LengthMM    *float64 `json:"length_mm,omitempty"` // of one rod
	Joints      int      `json:"joints"`
	VolumeCm3   float64  `json:"volume_cm3"`
	DepositedKg *float64 `json:"deposited_kg,omitempty"`
	ConsumedKg  *float64 `json:"consumed_kg,omitempty"`
	// BoughtKg is the mass needed: of whole rods, or of the wire.
	BoughtKg *float64 `json:"bought_kg,omitempty"`
	Rods     *int     `json:"rods,omitempty"`
	WireM    *float64 `json:"wire_m,omitempty"`
	// Packs for the whole job; nil without a density or a pack.
	Packs *filler.Packs `json:"packs,omitempty"`
}

// Buying adds up what joints take. The zero value is an empty list.
type Buying struct {
	totals map[Metal]*total
	order  []Metal
}

type total struct {
	joints                                          int
	weighed                                         bool
	volume, deposited, consumed, bought, rods, wire Sum
	rod                                             float64
	packs                                           []filler.Pack
}

// Add adds what one joint takes.
func (b *Buying) Add(u *Use) {
	t, ok := b.totals[u.Metal]
	if !ok {
		if b.totals == nil {
			b.totals = map[Metal]*total{}
		}
		t = &total{weighed: true, rod: u.RodKg, packs: u.Packs}
		b.totals[u.Metal] = t
		b.order = append(b.order, u.Metal)
	}
	t.joints++
	t.weighed = t.weighed && u.Weighed
	t.volume.Add(u.VolumeCm3)
	t.deposited.Add(u.DepositedKg)
	t.consumed.Add(u.ConsumedKg)
	t.bought.Add(u.BoughtKg)
	t.rods.Add(u.Rods)
	t.wire.Add(u.WireM)
}

// List returns the lines in the order the metals were first met.
func (b *Buying) List() []Item {
	out := make([]Item, 0, len(b.order))
	for _, m := range b.order {
		t := b.totals[m]
		item := Item{Filler: m.Name, Form: m.Form, DiameterMM: m.Diameter, Joints: t.joints, VolumeCm3: t.volume.Value()}
		if t.weighed {
			item.DepositedKg, item.ConsumedKg, item.BoughtKg = new(t.deposited.Value()), new(t.consumed.Value()), new(t.bought.Value())
		}
		switch m.Form {
		case Rod:
			item.LengthMM, item.Rods = new(m.Length), new(whole(t.rods.Value()))
			if t.weighed {
				item.BoughtKg = new(float64(*item.Rods) * t.rod)
			}
		case Wire:
			item.WireM = new(t.wire.Value())
		}
		if item.BoughtKg != nil {
			item.Packs = packs(t.packs, *item.BoughtKg)
		}
		out = append(out, item)
	}
	return out
}

// packs picks the cheapest way to a mass where all packs have a price, else the
// first pack, as for a single joint.
func packs(sold []filler.Pack, need float64) *filler.Packs {
	var best *filler.Packs
	for i := range sold {
		k := &sold[i]
		n := max(whole(need/k.Mass), 1)
		b := &filler.Packs{Pack: k.Label, PackKg: k.Mass, Count: n, BoughtKg: float64(n) * k.Mass, Source: k.Source}
		if k.Price > 0 {
			b.PackPrice, b.Price = new(k.Price), new(float64(n)*k.Price)
		}
		if best == nil || best.Price == nil && b.Price != nil || best.Price != nil && b.Price != nil && *b.Price < *best.Price {
			best = b
		}
	}
	return best
}

// whole rounds up; what is a whole number but for rounding stays.
func whole(n float64) int { return int(math.Ceil(n * (1 - 1e-12))) }

// Sum adds numbers with the error of each addition carried along (Neumaier's
// way), so that a job of many thousand small joints loses nothing.
type Sum struct{ sum, lost float64 }

// Add adds a number.
func (s *Sum) Add(v float64) {
	t := s.sum + v
	if math.Abs(s.sum) >= math.Abs(v) {
		s.lost += (s.sum - t) + v
	} else {
		s.lost += (v - t) + s.sum
	}
	s.sum = t
}

// Value is the sum.
func (s *Sum) Value() float64 { return s.sum + s.lost }
