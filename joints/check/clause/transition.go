package clause

import (
	"math"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// Taper is the step between unequal butting members on one side of the joint,
// and the run that takes it up.
type Taper struct {
	Member string
	Step   geometry.Length
	Run    geometry.Length // 0 without a transition
	Root   bool            // on the root side
}

// Tapers reads the steps of a joint.
func Tapers(f *check.Facts) []Taper {
	var out []Taper
	for i := range f.Section.Measures {
		m := &f.Section.Measures[i]
		switch {
		case m.Name == "step":
			out = append(out, Taper{Member: m.Member, Step: geometry.Length(m.Value), Root: m.To.Y < m.From.Y})
		case m.Name == "transition length" && len(out) > 0:
			out[len(out)-1].Run = geometry.Length(m.Value)
		}
	}
	return out
}

// Transition compares the run of every step with least times its height. Steps
// for which skip gives a reason are left alone.
func Transition(f *check.Facts, to []check.Finding, least float64, skip func(Taper) string) []check.Finding {
	tapers := Tapers(f)
	if len(tapers) == 0 {
		return append(to, check.Inapplicable("no member stands over another"))
	}
	for _, t := range tapers {
		if skip != nil {
			if why := skip(t); why != "" {
				to = append(to, check.Inapplicable(why))
				continue
			}
		}
		slope := float64(t.Run / t.Step)
		finding := check.Compare(slope, check.AtLeast, least, joints.UnitRatio)
		if !f.Brief {
			finding.Step("n = l/h", f.Show(t.Run)+" / "+f.Show(t.Step), "n = "+number(slope, 2)+" on the "+t.Side()+" of the "+t.Member)
			finding.Step("n ≥ n_min", number(slope, 2)+" ≥ "+trimmed(least), string(finding.Verdict))
		}
		if finding.Verdict == check.NotMet {
			finding.Mend = "a transition of " + trimmed(math.Ceil(least*10-1e-9)/10) + " on the " + t.Side() + ", " +
				f.ShowAtLeast(geometry.Length(least)*t.Step) + " long"
		}
		to = append(to, finding)
	}
	return to
}

// Side names the side of the step.
func (t Taper) Side() string {
	if t.Root {
		return "root side"
	}
	return "face side"
}

func trimmed(v float64) string { return check.Limit{Base: v}.String() }
