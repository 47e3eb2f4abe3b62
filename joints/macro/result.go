package macro

import (
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/joints/check"
)

// Schema names the form of the JSON of reports.
const Schema = "fay.macro/1"

// Result is what programs read of one or several records: lengths mm, angles
// degrees; absent is absent.
type Result struct {
	Schema   string         `json:"schema"`
	Cautions []string       `json:"cautions"`
	Records  []RecordResult `json:"records"`
}

// RecordResult is one report.
type RecordResult struct {
	Joint      JointRef        `json:"joint"`
	Sample     string          `json:"sample"`
	Weld       string          `json:"weld"`
	Members    [2]string       `json:"members"` // a and b
	PositionMM *float64        `json:"position_mm,omitempty"`
	Date       string          `json:"date,omitempty"`
	Inspector  string          `json:"inspector,omitempty"`
	Etchant    string          `json:"etchant,omitempty"`
	Photo      string          `json:"photo,omitempty"`
	ReadingMM  float64         `json:"reading_mm"`
	Note       string          `json:"note,omitempty"`
	Verdict    check.Verdict   `json:"verdict"`
	Items      []Item          `json:"items"`
	Flags      []Flag          `json:"flags"`
	Documents  []string        `json:"documents"`
	Findings   []check.Finding `json:"findings"`
	Fit        *FitResult      `json:"fit,omitempty"` // where points were given
	Notes      []string        `json:"notes"`
}

// JointRef says which joint was cut.
type JointRef struct {
	Kind   string `json:"kind"`
	Title  string `json:"title"`
	Mark   string `json:"mark,omitempty"`
	File   string `json:"file,omitempty"`
	Digest string `json:"digest"`
}

// FitResult is what the points gave besides the items.
type FitResult struct {
	FaceMM     float64 `json:"face_mm"`
	ResidualMM float64 `json:"residual_mm"`
}

// Result makes the report's part of a result.
func (r *Report) Result(section *joints.Section, joint JointRef, date string) RecordResult {
	rec := r.Record
	out := RecordResult{
		Joint: joint, Sample: rec.Sample, Weld: r.Weld.ID, PositionMM: ptr(rec.Position), Date: date, Inspector: rec.Inspector,
		Etchant: rec.Etchant, Photo: rec.Photo, ReadingMM: float64(rec.Reading), Note: rec.Note, Verdict: r.Verdict, Items: r.Items,
		Flags: append([]Flag{}, r.Flags...), Documents: append([]string{}, r.Documents...), Findings: r.Findings, Notes: r.Notes,
	}
	for i := range out.Members {
		out.Members[i] = section.Members[r.Weld.Feet[i].Member].Name
	}
	if p := rec.Profile; p != nil {
		out.Fit = &FitResult{FaceMM: p.FaceWidth, ResidualMM: p.Residual}
	}
	return out
}

// Cautions are those of a report: what fay does not say, and what etching can do.
func (r *Report) Cautions(families []string) []string {
	return append(EtchingCautions(r.Record.Etchant, families),
		"One section shows one place of the seam. The local code and licensed practice decide what it proves.")
}

// Trend is the history of one item of one weld of one joint.
type Trend struct {
	Item    string      `json:"item"`
	Unit    joints.Unit `json:"unit"`
	Count   int         `json:"count"`
	Mean    float64     `json:"mean"`
	Least   float64     `json:"least"`
	Largest float64     `json:"largest"`
	// Change is from the first half of the records to the second, mean to mean;
	// absent under four records.
	Change *float64 `json:"change,omitempty"`
	// Margin is the smallest distance to a limit, negative where one was passed;
	// absent where there was none.
	Margin *float64 `json:"margin,omitempty"`
	NotMet int      `json:"not_met"`
}

// History is the records of one weld of one joint, by date.
type History struct {
	Joint   string   `json:"joint"`
	Part    string   `json:"part,omitempty"`
	Weld    string   `json:"weld"`
	Digests []string `json:"digests"` // of the joint's versions, in order
	Entries []Entry  `json:"entries"`
	Trends  []Trend  `json:"trends"`
}

// Histories groups the entries of a log by joint, part and weld, in the order
// in which they first appear, each by date. A joint given keeps those whose
// mark, part, file or digest (eight characters or more of it) is that.
func Histories(log *Log, joint string) []History {
	out := []History{}
	index := map[[3]string]int{}
	for _, e := range log.Entries {
		if joint != "" && e.Joint != joint && e.Part != joint && e.File != joint && !(len(joint) >= 8 && len(e.Digest) >= len(joint) && e.Digest[:len(joint)] == joint) {
			continue
		}
		key := [3]string{e.Joint, e.Part, e.Weld}
		i, ok := index[key]
		if !ok {
			i = len(out)
			index[key] = i
			out = append(out, History{Joint: e.Joint, Part: e.Part, Weld: e.Weld})
		}
		out[i].Entries = append(out[i].Entries, e)
	}
	for i := range out {
		h := &out[i]
		slices.SortStableFunc(h.Entries, func(a, b Entry) int {
			switch {
			case a.Date < b.Date:
				return -1
			case a.Date > b.Date:
				return 1
			}
			return 0
		})
		for j := range h.Entries {
			if d := h.Entries[j].Digest; !slices.Contains(h.Digests, d) {
				h.Digests = append(h.Digests, d)
			}
		}
		h.trends()
	}
	return out
}

func (h *History) trends() {
	h.Trends = []Trend{}
	for _, id := range itemIDs {
		t := Trend{Item: id, Unit: unitOf(id)}
		var values []float64
		for i := range h.Entries {
			it, ok := h.Entries[i].Item(id)
			if !ok {
				continue
			}
			values = append(values, it.Measured)
			if it.Verdict == check.NotMet {
				t.NotMet++
			}
			margin := func(m float64) {
				if t.Margin == nil || m < *t.Margin {
					t.Margin = &m
				}
			}
			if it.Low != nil {
				margin(it.Measured - *it.Low)
			}
			if it.High != nil {
				margin(*it.High - it.Measured)
			}
		}
		if t.Count = len(values); t.Count == 0 {
			continue
		}
		t.Mean, t.Least, t.Largest = mean(values), slices.Min(values), slices.Max(values)
		if half := len(values) / 2; half >= 2 {
			t.Change = new(mean(values[len(values)-half:]) - mean(values[:half]))
		}
		h.Trends = append(h.Trends, t)
	}
}

func unitOf(id string) joints.Unit {
	switch id {
	case "area":
		return joints.UnitMM2
	case "angle":
		return joints.UnitDegree
	}
	return joints.UnitMM
}

func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

// Bounds is the smallest box around the outline.
func (o *Outline) Bounds() geometry.Box {
	return o.Face.Bounds().Expand(o.Root).Expand(o.WeldRoot).Expand(o.Corner)
}
