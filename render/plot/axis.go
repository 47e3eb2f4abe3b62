package plot

import (
	"math"
	"time"

	"fay/geometry"
	"fay/render"
	"fay/render/lettering"
)

// Axis is one axis of a diagram. Min and Max both zero take the range of the
// data, to round numbers.
type Axis struct {
	Label    string
	Unit     string
	Min, Max float64
	// Zero keeps zero on an axis whose range comes from the data.
	Zero bool
	// Ticks replaces the round ones, for axes that are not numbers.
	Ticks []Tick
}

// Tick is a labelled place on an axis.
type Tick struct {
	At    float64
	Label string
}

func (a *Axis) title() string {
	if a.Unit == "" {
		return a.Label
	}
	return a.Label + ", " + a.Unit
}

// fit settles the range from the data, with a little air beyond it or not.
func (a *Axis) fit(data []float64, withAir bool) error {
	if err := finite(a.Min, a.Max); err != nil {
		return err
	}
	if a.Min != 0 || a.Max != 0 {
		if a.Min >= a.Max {
			return errWrongWayAxis
		}
		return nil
	}
	if len(data) == 0 {
		return errNothing
	}
	lo, hi := data[0], data[0]
	for _, v := range data {
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	if a.Zero {
		lo, hi = math.Min(lo, 0), math.Max(hi, 0)
	}
	if span := hi - lo; span <= 1e-12*math.Max(math.Abs(lo), math.Abs(hi)) {
		margin := math.Max(math.Abs(hi)/2, 0.5)
		lo, hi = lo-margin, hi+margin
	}
	if air := 0.04 * (hi - lo); withAir {
		if !a.Zero || lo < 0 {
			lo -= air
		}
		if !a.Zero || hi > 0 {
			hi += air
		}
	}
	a.Min, a.Max = lo, hi
	if len(a.Ticks) == 0 {
		step := roundUp((hi - lo) / 8)
		a.Min, a.Max = math.Floor(lo/step+1e-9)*step, math.Ceil(hi/step-1e-9)*step
	}
	return finite(a.Min, a.Max)
}

// roundUp is the smallest of 1, 2 and 5 times a power of ten that is at least v.
func roundUp(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return 1
	}
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range [4]float64{1, 2, 5, 10} {
		if m*p >= v*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// ticks gives the ticks of an axis that is so long on paper. Labels of a level
// axis keep clear of each other; those of an upright one stand at least two
// lines apart.
func (a *Axis) ticks(style *render.Style, long, height float64, level bool) []Tick {
	if len(a.Ticks) > 0 {
		return a.apart(long, height, level)
	}
	const most = 400
	step := roundUp((a.Max - a.Min) / math.Max(long/8, 1))
	for range 40 {
		decimals := max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
		first := math.Ceil(a.Min/step - 1e-9)
		if n := (a.Max - a.Min) / step; n > most {
			step = roundUp(step * 1.1)
			continue
		}
		var out []Tick
		room := 2 * height
		for i := 0.0; (first+i)*step <= a.Max+1e-9*step; i++ {
			t := Tick{At: (first + i) * step}
			t.Label = number(style, t.At, decimals)
			if level {
				room = math.Max(room, lettering.Measure(t.Label, render.FaceRegular, height)+1.5*height)
			}
			out = append(out, t)
		}
		if step/(a.Max-a.Min)*long >= room {
			return out
		}
		step = roundUp(step * 1.1)
	}
	return nil
}

// apart leaves out ticks that stand too near to the one kept before.
func (a *Axis) apart(long, height float64, level bool) []Tick {
	scale := long / (a.Max - a.Min)
	var out []Tick
	end := math.Inf(-1)
	for _, t := range a.Ticks {
		if !(t.At >= a.Min && t.At <= a.Max) {
			continue
		}
		half := height
		if level {
			half = lettering.Measure(t.Label, render.FaceRegular, height)/2 + 0.75*height
		}
		if at := t.At * scale; at-half >= end {
			out, end = append(out, t), at+half
		}
	}
	return out
}

// Day is the place of a date on an axis of dates.
func Day(t time.Time) float64 {
	return float64(time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC).Unix()) / 86400
}

// Dates is an axis over the dates, from a little before the first to a little
// after the last, with ticks at round days, months or years.
func Dates(label string, dates []time.Time) Axis {
	a := Axis{Label: label}
	if len(dates) == 0 {
		return a
	}
	lo, hi := dates[0], dates[0]
	for _, d := range dates {
		if d.Before(lo) {
			lo = d
		}
		if d.After(hi) {
			hi = d
		}
	}
	air := math.Max(1, 0.04*(Day(hi)-Day(lo)))
	a.Min, a.Max = Day(lo)-air, Day(hi)+air
	at := func(y int, m time.Month, d int, form string) {
		t := time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
		if v := Day(t); v >= a.Min && v <= a.Max {
			a.Ticks = append(a.Ticks, Tick{At: v, Label: t.Format(form)})
		}
	}
	const iso, months = "2006-01-02", "2006-01"
	switch span := a.Max - a.Min; {
	case span > 365*6:
		for y := lo.Year() - 1; y <= hi.Year()+1; y++ {
			at(y, time.January, 1, "2006")
		}
	case span > 92:
		every := 1 + int(span/365)*2
		for m := 0; m <= 12*(hi.Year()-lo.Year()+2); m += every {
			at(lo.Year(), time.Month(1+m), 1, months)
		}
	default:
		every := max(1, int(math.Ceil(span/8)))
		first := time.Unix(int64(math.Ceil(a.Min))*86400, 0).UTC()
		for d := 0; float64(d) <= span; d += every {
			at(first.Year(), first.Month(), first.Day()+d, iso)
		}
	}
	return a
}

// scale maps data to the sheet.
type scale struct {
	x, y Axis
	box  geometry.Box
}

func (s *scale) at(x, y float64) geometry.Point { return geometry.Point{X: s.atX(x), Y: s.atY(y)} }

func (s *scale) atX(v float64) float64 {
	return s.box.Min.X + (v-s.x.Min)/(s.x.Max-s.x.Min)*s.box.Width()
}

func (s *scale) atY(v float64) float64 {
	return s.box.Min.Y + (v-s.y.Min)/(s.y.Max-s.y.Min)*s.box.Height()
}
