package aisc36016

import (
	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// J2.2b, largest fillet along the edge of material. Read in
// scribd.com/document/380231435 (primary): leg ≤ t below 1/4 in (6 mm), from
// there on leg ≤ t − 1/16 in (2 mm) unless the weld is shown to be built out.
var (
	edgeFrom   = check.Pair(6, 1.0/4)
	edgeMargin = check.Pair(2, 1.0/16)
)

var edgeLeg = check.Rule{
	ID:         "aisc-360-16/J2.2b-edge",
	Title:      "Largest leg along an edge",
	Source:     source("J2.2b, maximum size along edges"),
	Provenance: check.Primary,
	Read:       readJ2,
	Doc: "The part of the leg that stands on the cut edge of a plate against the plate's thickness. " +
		"The two columns are each read as printed. A gap lifts the plate and its edge: what the leg bridges there is not counted, " +
		"because the margin is for an edge that can still be seen and measured.",
	Values: check.Table{
		Columns: []string{"plate", "largest leg"},
		Rows:    [][]string{{"under " + edgeFrom.String(), "t"}, {"from " + edgeFrom.String(), "t − " + edgeMargin.String()}},
	},
	Check: checkEdgeLeg,
}

func checkEdgeLeg(f *check.Facts, to []check.Finding) []check.Finding {
	first := len(to)
	for i := range f.Section.Welds {
		w := &f.Section.Welds[i]
		for j := range w.Feet {
			if w.Kind == joints.FilletWeld && w.Feet[j].OnEdge {
				to = append(to, edgeFinding(f, w, j))
			}
		}
	}
	if len(to) == first {
		return append(to, check.Inapplicable("no leg stands on the edge of a plate"))
	}
	return to
}

func edgeFinding(f *check.Facts, w *joints.Weld, foot int) check.Finding {
	t := f.Thickness(w.Feet[foot].Member)
	leg, bridged := w.Feet[foot].Leg, standing(w, foot)
	limit := edgeLimit(f, t)
	finding := check.Compare(float64(leg-bridged), check.AtMost, float64(limit), joints.UnitMM)
	finding.Weld = w.ID

	if limit < t {
		if !f.Brief {
			finding.Step("z_max = t − "+edgeMargin.Show(f), f.Show(t)+" − "+edgeMargin.Show(f),
				"z_max = "+f.Show(limit)+" for t ≥ "+edgeFrom.Show(f))
		}
	} else {
		if !f.Brief {
			finding.Step("z_max = t", f.Show(t), "z_max = "+f.Show(limit)+" for t < "+edgeFrom.Show(f))
		}
	}
	if bridged > 0 {
		if !f.Brief {
			finding.Step("z_edge = z − g", f.Show(leg)+" − "+f.Show(bridged), "z_edge = "+f.Show(leg-bridged))
			finding.Step("z_edge ≤ z_max", f.Show(leg-bridged)+" ≤ "+f.Show(limit), string(finding.Verdict))
		}
	} else {
		if !f.Brief {
			finding.Step("z ≤ z_max", f.Show(leg)+" ≤ "+f.Show(limit), string(finding.Verdict))
		}
	}
	finding.LegAtMost(limit+bridged, f.Name(w, foot))
	if finding.Verdict == check.NotMet {
		finding.Mend = "a leg of at most " + f.ShowAtMost(limit+bridged) + " on the edge of the " + f.Name(w, foot)
		finding.AddNote("a larger leg is allowed where the drawing says that the weld is built out to full throat")
	}
	return finding
}

// edgeLimit is the largest leg on the edge of a plate of thickness t.
func edgeLimit(f *check.Facts, t geometry.Length) geometry.Length {
	if t < edgeFrom.Of(f)*(1-1e-9) {
		return t
	}
	return t - edgeMargin.Of(f)
}

// standing is the part of a leg on the abutting member that bridges the gap
// below the member's corner.
func standing(w *joints.Weld, foot int) geometry.Length {
	if foot == 0 {
		return 0
	}
	return geometry.Length(w.RootCorner.Dist(w.JointRoot))
}
