package macro

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fay/joints"
	"fay/joints/check"
)

// Flag is something odd about a record that is not one item's.
type Flag struct {
	Verdict check.Verdict `json:"verdict"` // not met: a measuring error; cannot tell: one is likely
	Text    string        `json:"text"`
	Steps   []check.Step  `json:"steps"`
}

// consistency compares the measured throat with the one that legs, convexity,
// gap and penetration give in closed form. It is nil where too little was
// measured or where both agree.
func consistency(f *frame, rec *Record, show func(float64) string) *Flag {
	s := &rec.Sizes
	if rec.Points != nil || !s.Legs[0].Present || !s.Throat.Present {
		return nil
	}
	shape := f.shape(s)
	want, got := shape.throat(), float64(s.Throat.Value)
	allowance := throatAllowance(f, s, float64(rec.Reading))
	off := got - want
	if math.Abs(off) <= allowance+tiny {
		return nil
	}
	var missing []string
	if !s.Convexity.Present {
		missing = append(missing, "convexity")
	}
	if !s.Penetration.Present {
		missing = append(missing, "penetration")
	}
	flag := &Flag{Verdict: check.NotMet}
	way := "longer"
	if off < 0 {
		way = "shorter"
	}
	flag.Text = fmt.Sprintf("measuring error: the throat is %s %s than legs, convexity, gap and penetration give; measure again", show(math.Abs(off)), way)
	if len(missing) > 0 {
		flag.Verdict = check.CannotTell
		flag.Text = fmt.Sprintf("measuring error, or %s not recorded: the throat is %s %s than the legs give with a flat face fused just to the root",
			strings.Join(missing, " and "), show(math.Abs(off)), way)
	}
	flag.Steps = closedForm(&shape, want, show)
	flag.Steps = append(flag.Steps,
		check.Step{Symbols: "allowance = u + Σ|Δa| for every size read ±u", Numbers: "u = " + show(float64(rec.Reading)), Result: show(allowance)},
		check.Step{Symbols: "|a_measured − a| ≤ allowance", Numbers: "|" + show(got) + " − " + show(want) + "| = " + show(math.Abs(off)), Result: "not met"})
	return flag
}

// closedForm is the throat in symbols and numbers.
func closedForm(s *Shape, a float64, show func(float64) string) []check.Step {
	z0, z1 := s.Legs[0], s.Legs[1]
	w := s.width()
	if s.Rise == 0 && s.Root.Norm() < tiny {
		return []check.Step{
			{Symbols: "w = √(z_a² + z_b² − 2·z_a·z_b·cos ψ)", Numbers: fmt.Sprintf("z_a = %s, z_b = %s, ψ = %s°", show(z0), show(z1), number(s.Psi.Degrees())), Result: "w = " + show(w)},
			{Symbols: "a = z_a·z_b·sin ψ / w", Numbers: fmt.Sprintf("%s·%s·%s / %s", show(z0), show(z1), number(math.Sin(float64(s.Psi))), show(w)), Result: "a = " + show(a)},
		}
	}
	if s.Rise == 0 {
		return []check.Step{{Symbols: "a = distance from the weld root to the chord from toe to toe",
			Numbers: fmt.Sprintf("z_a = %s, z_b = %s, ψ = %s°, root at %s from the joint root", show(z0), show(z1), number(s.Psi.Degrees()), show(s.Root.Norm())),
			Result:  "a = " + show(a)}}
	}
	r := (w*w + 4*s.Rise*s.Rise) / (8 * math.Abs(s.Rise))
	return []check.Step{
		{Symbols: "r = (w² + 4h²) / 8h", Numbers: fmt.Sprintf("w = %s toe to toe, h = %s", show(w), show(s.Rise)), Result: "r = " + show(r)},
		{Symbols: "a = distance from the weld root to the arc of radius r through both toes",
			Numbers: fmt.Sprintf("z_a = %s, z_b = %s, ψ = %s°, root at %s from the joint root", show(z0), show(z1), number(s.Psi.Degrees()), show(s.Root.Norm())),
			Result:  "a = " + show(a)},
	}
}

// throatAllowance is how far the throat may lie from its closed form when
// every size that was read is off by u at the same time.
func throatAllowance(f *frame, s *Sizes, u float64) float64 {
	sum := u
	spread := func(change func(*Sizes, float64)) {
		up, down := *s, *s
		change(&up, u)
		change(&down, -u)
		a, b := f.shape(&up), f.shape(&down)
		sum += math.Abs(a.throat()-b.throat()) / 2
	}
	for i := range s.Legs {
		spread(func(s *Sizes, d float64) { s.Legs[i].Value += length(d) })
	}
	for _, of := range []func(*Sizes) *joints.Opt{
		func(s *Sizes) *joints.Opt { return &s.Convexity },
		func(s *Sizes) *joints.Opt { return &s.Gap },
		func(s *Sizes) *joints.Opt { return &s.Penetration },
	} {
		if of(s).Present {
			spread(func(s *Sizes, d float64) { of(s).Value += length(d) })
		}
	}
	return sum
}

// number prints at most three decimals, finer than a section is read.
func number(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e3)/1e3+0, 'f', -1, 64)
}
