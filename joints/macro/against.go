package macro

import (
	"fmt"
	"math"
	"strings"

	"fay/joints"
)

// lacks says why a kind of weld does not have a size; empty where it has.
func lacks(w *joints.Weld, name string) (why string) {
	fillet, groove := w.Kind == joints.FilletWeld, w.Kind == joints.GrooveWeld
	switch name {
	case "legs":
		if w.Feet[0].Leg == 0 {
			return "a " + string(w.Kind) + " weld like this has no legs"
		}
	case "convexity", "surface-a", "surface-b", "face", "root", "scale":
		if !fillet {
			return "describes the face of a fillet; " + w.ID + " is a " + string(w.Kind) + " weld"
		}
	case "cap-height":
		if fillet {
			return "describes a groove; give convexity for a fillet"
		}
	case "hi-lo", "root-height", "underfill", "root-concavity", "root-undercut", "lack-of-penetration":
		if !groove {
			return "describes a groove; " + w.ID + " is a " + string(w.Kind) + " weld"
		}
	}
	return ""
}

// against holds the record against the joint that was cut.
func (r *reader) against(rec *Record) {
	section := r.src.Section
	if rec.Weld == "" && len(section.Welds) > 0 && !r.bad["weld"] {
		rec.Weld = section.Welds[0].ID
	}
	w, ok := section.Weld(rec.Weld)
	if !ok {
		ids := make([]string, len(section.Welds))
		for i := range section.Welds {
			ids[i] = section.Welds[i].ID
		}
		if !r.bad["weld"] {
			r.clash("weld", joints.FaultUnknown, "is not a weld of this joint", "the welds are "+strings.Join(ids, ", "))
		}
		return
	}
	if w.Kind == joints.PlugWeld {
		r.clash("weld", joints.FaultConflict, "plugs and slots have no section across a seam", "record another weld")
		return
	}
	wrong := false
	for _, name := range r.sheet.order {
		if why := lacks(w, name); why != "" {
			r.clash(name, joints.FaultConflict, why, "leave "+name+" out")
			wrong = true
		}
	}
	if wrong || w.Kind != joints.FilletWeld {
		return
	}
	frame := newFrame(section, w)
	if rec.Points != nil {
		r.profile(rec, &frame)
	}
	s := &rec.Sizes
	if s.Legs[0].Present && s.Gap.Present && !r.bad["legs"] && !r.bad["gap"] {
		if corner := frame.corner(s.Gap); float64(s.Legs[frame.abut].Value) <= corner {
			r.clash("gap", joints.FaultConflict,
				fmt.Sprintf("contradicts legs: across this gap the edge of the %s stands %.3g mm from the joint root, beyond the toe", frame.name[frame.abut], corner),
				"measure both again")
		}
	}
	if s.Legs[0].Present && s.Convexity.Present && !r.bad["legs"] && !r.bad["convexity"] {
		shape := frame.shape(s)
		if width := shape.width(); math.Abs(shape.Rise) > width/2 {
			r.clash("convexity", joints.FaultConflict, fmt.Sprintf("contradicts legs: it is more than half of the face, %.3g mm toe to toe", width), "measure both again")
		}
	}
}

// profile evaluates the points.
func (r *reader) profile(rec *Record, f *frame) {
	p, faults := recoverProfile(rec.Points, f, &rec.Sizes)
	for _, fault := range faults {
		r.clash(fault.Field, fault.Code, fault.Rule, fault.Remedy)
	}
	if len(faults) > 0 {
		return
	}
	rec.Profile = &p
	s := &rec.Sizes
	s.Legs = [2]joints.Opt{some(p.Legs[0]), some(p.Legs[1])}
	s.Throat, s.Convexity = some(p.Throat), some(p.Rise)
	if p.Reached.Present {
		s.Penetration = p.Reached
	}
}
