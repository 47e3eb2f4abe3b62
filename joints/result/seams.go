package result

import (
	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
)

// Seam is one run of weld along the part as given, and what it takes of each
// weld. What was not given has no key, but for the count, which is 1 then.
type Seam struct {
	LengthMM  *float64    `json:"length_mm,omitempty"`
	AroundMM  *float64    `json:"around_mm,omitempty"` // diameter
	Axis      joints.Axis `json:"axis,omitempty"`      // of a round seam
	Inside    *bool       `json:"inside,omitempty"`    // of a round seam
	Count     int         `json:"count"`
	SegmentMM *float64    `json:"segment_mm,omitempty"`
	PitchMM   *float64    `json:"pitch_mm,omitempty"`
	Staggered *bool       `json:"staggered,omitempty"` // of an intermittent seam
	Runs      []Run       `json:"runs"`
}

// Run is what a seam takes of one weld. Segments are those of one seam, length
// and volumes are of all seams alike.
type Run struct {
	Weld         string  `json:"weld"`
	Segments     int     `json:"segments"` // 1 where continuous
	SegmentMM    float64 `json:"segment_mm"`
	LengthMM     float64 `json:"length_mm"`
	DepositedCm3 float64 `json:"deposited_cm3"`
	FusedCm3     float64 `json:"fused_cm3"`
}

// Total is what one weld comes to over all seams of a part.
type Total struct {
	Weld         string  `json:"weld"`
	LengthMM     float64 `json:"length_mm"`
	DepositedCm3 float64 `json:"deposited_cm3"`
	FusedCm3     float64 `json:"fused_cm3"`
}

// mm3PerCm3 is exact by definition.
const mm3PerCm3 = 1000

// seams lists the seams and adds up their welds; both are nil where there are
// none.
func seams(given []jointfile.Seam, totals []jointfile.Total, kind string) ([]Seam, []Total) {
	if len(given) == 0 {
		return nil, nil
	}
	out := make([]Seam, 0, len(given))
	for i := range given {
		g := &given[i]
		s := Seam{
			LengthMM: positive(g.Length), AroundMM: positive(g.Around), Count: max(g.Count, 1),
			SegmentMM: positive(g.Segment), PitchMM: positive(g.Pitch), Runs: make([]Run, 0, len(g.Runs)),
		}
		if s.AroundMM != nil {
			s.Axis, s.Inside = jointfile.SeamAxis(kind, g.Axis), &g.Inside
		}
		if s.SegmentMM != nil {
			s.Staggered = &g.Staggered
		}
		for _, r := range g.Runs {
			s.Runs = append(s.Runs, Run{
				Weld: r.Weld, Segments: r.Segments, SegmentMM: r.Segment.Millimetres(), LengthMM: r.Length.Millimetres(),
				DepositedCm3: r.Volume / mm3PerCm3, FusedCm3: r.Fused / mm3PerCm3,
			})
		}
		out = append(out, s)
	}
	sums := make([]Total, 0, len(totals))
	for _, t := range totals {
		sums = append(sums, Total{Weld: t.Weld, LengthMM: t.Length.Millimetres(), DepositedCm3: t.Volume / mm3PerCm3, FusedCm3: t.Fused / mm3PerCm3})
	}
	return out, sums
}

func positive(l geometry.Length) *float64 {
	if l == 0 {
		return nil
	}
	return new(l.Millimetres())
}
