package cli

import (
	"math"

	"fay/joints"
	"fay/joints/heat"
)

// confidence is the part of all fits whose interval holds the true value.
const confidence = 0.95

// The parts by which efficiency and spot are moved to see what the depths do:
// more than the mesh blurs, less than bends the answer.
const (
	efficiencyStep = 0.04
	spotStep       = 0.08
)

// interval tells how far efficiency and spot may lie off, from the scatter of
// the sections: the depths answer to them near enough in proportion, and the
// mean of a few measurements is off as Student's distribution has it.
func (h *heating) interval(c *calibration, m fusion, best trial) error {
	if m.free == 0 {
		c.Notes = append(c.Notes, "one measurement of each depth has no scatter and gives no interval: cut two sections or more")
		return nil
	}
	slope, err := h.slopes(best, c.SpotFitted)
	if err != nil {
		return err
	}
	var off [2]float64 // variance of each mean depth
	for k := range off {
		if m.known[k] {
			off[k] = m.scatter * m.scatter / float64(m.each[k])
		}
	}
	wide := student(m.free)
	if !c.SpotFitted {
		k := 0
		if !m.known[0] {
			k = 1
		}
		if s := slope[k][0]; s > 0 {
			c.EfficiencyRange = within(c.Efficiency, wide*math.Sqrt(off[k])/s, heat.EfficiencyRange)
		}
		return nil
	}
	// Both values from both depths: the inverse of the slopes.
	det := slope[0][0]*slope[1][1] - slope[0][1]*slope[1][0]
	half := func(a, b float64) float64 {
		return wide * math.Sqrt(a*a*off[0]+b*b*off[1]) / math.Abs(det)
	}
	efficiency, spot := half(slope[1][1], slope[0][1]), half(slope[1][0], slope[0][0])
	if math.IsNaN(efficiency+spot) || efficiency > 1 || spot > mostSpot {
		c.Notes = append(c.Notes, "the sections do not tell efficiency and spot apart: no interval")
		return nil
	}
	c.EfficiencyRange = within(c.Efficiency, efficiency, heat.EfficiencyRange)
	c.SpotRange = within(c.SpotMM, spot, joints.Range{Min: leastSpot, Max: mostSpot})
	if c.SpotRange[0] == leastSpot || c.SpotRange[1] == mostSpot {
		c.Notes = append(c.Notes, "the interval of the spot ends where spots were looked for: the sections hardly tell it")
	}
	return nil
}

// slopes are what each depth gains with efficiency and with the spot.
func (h *heating) slopes(best trial, spot bool) (slope [2][2]float64, err error) {
	arc, err := h.givenArc()
	if err != nil {
		return slope, err
	}
	depths := func(spot, efficiency float64) ([2]float64, error) {
		field, err := h.spotField(spot)
		if err != nil {
			return [2]float64{}, err
		}
		return h.fused(field, arc*efficiency)
	}
	try := func(column int, low, high, span float64, at func(float64) ([2]float64, error)) error {
		a, err := at(low)
		if err != nil {
			return err
		}
		b, err := at(high)
		if err != nil {
			return err
		}
		for k := range slope {
			slope[k][column] = (b[k] - a[k]) / span
		}
		return nil
	}
	e := best.efficiency * efficiencyStep
	err = try(0, best.efficiency-e, best.efficiency+e, 2*e, func(v float64) ([2]float64, error) { return depths(best.spot, v) })
	if err != nil || !spot {
		return slope, err
	}
	s := best.spot * spotStep
	return slope, try(1, best.spot-s, best.spot+s, 2*s, func(v float64) ([2]float64, error) { return depths(v, best.efficiency) })
}

// within is a value with so much to each side, inside bounds.
func within(v, half float64, bounds joints.Range) *[2]float64 {
	return &[2]float64{max(bounds.Min, v-half), min(bounds.Max, v+half)}
}

// mostFree is from where Student's distribution is as good as the normal one.
const mostFree = 1000

// student is how many standard errors to each side hold the true value at the
// confidence, where the scatter is known from so many free measurements. With
// t = √n·tan θ the density is cosⁿ⁻¹θ, which is added up by Simpson's rule.
func student(free int) float64 {
	n := float64(min(free, mostFree))
	area := func(to float64) float64 {
		const panels = 400
		h := to / panels
		sum := 1 + math.Pow(math.Cos(to), n-1)
		for i := 1; i < panels; i++ {
			sum += float64(2+2*(i%2)) * math.Pow(math.Cos(h*float64(i)), n-1)
		}
		return sum * h / 3
	}
	whole := area(math.Pi / 2)
	low, high := 0., math.Pi/2
	for range 50 {
		if mid := (low + high) / 2; area(mid) < confidence*whole {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Sqrt(n) * math.Tan(low)
}
