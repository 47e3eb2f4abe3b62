package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/check/documents"
	"fay/joints/check/preparation"
	"fay/joints/compare"
	"fay/joints/jointfile"
)

// prepared writes out the preparations that suit the joint's plates.
func (s *set) prepared(p *segment) error {
	h := p.heads[0]
	j, whole, err := s.probe(h, p.assignments)
	if err != nil {
		return err
	}
	k, _ := joints.LookupKind(j.doc.Section.Kind)
	rows, suits, err := j.suitable()
	if err != nil {
		return err
	}
	candidates, left := compare.Preparations(k, rows, j.nameLength)
	s.left = left
	prep := slices.IndexFunc(p.assignments, func(x string) bool { return s.fullName(h, x) == "prep" })
	own := prep >= 0 || s.sources[h].path != ""
	laid := s.laid(p, k, j, whole, candidates)
	if own {
		as := compare.Candidate{Square: prep >= 0 && strings.HasSuffix(p.assignments[prep], "="+string(joints.PrepSquare))}
		given := append(slices.Clone(p.assignments), laid(&as)...)
		s.list = append(s.list, alternative{name: "as given", head: h, assignments: given, lenient: true})
	}
	// What a file says of its own preparation is taken away.
	var gone []string
	if s.sources[h].path != "" {
		for _, name := range preparationNames {
			if j.doc.Given(name) {
				gone = append(gone, name+"=")
			}
		}
	}
	for i := range candidates {
		c := &candidates[i]
		prepared := s.replace(h, s.unprepared(h, p.assignments), s.replace(h, gone, c.Assignments))
		s.list = append(s.list, alternative{name: c.Name, note: c.Note, head: h, assignments: append(prepared, laid(c)...), lenient: true})
	}
	s.notes = append(s.notes, "preparations on file for "+suits)
	switch {
	case len(candidates) == 0:
		return usage("no preparation on file suits "+suits, "name the material, another process, or compare your own with vs prep=…")
	case len(s.list) == 1:
		return usage("preparations: one is on file for "+suits+": "+candidates[0].Name+" ("+candidates[0].Note+")",
			"compare it with your own: "+strings.Join(candidates[0].Assignments, " ")+" vs prep=…")
	}
	return nil
}

// suitable lists the rows on file for the plate that is prepared, and says in
// words what they were looked up for.
func (j *job) suitable() (rows []preparation.Preparation, suits string, err error) {
	thickness, family := j.preparedPlate()
	process := j.settings.Process
	if text := j.doc.Filler.Process; text != "" {
		if process, err = config.ParseProcess(text); err != nil {
			return nil, "", j.placed(joints.Faults{{Code: joints.FaultUnknown, Field: "filler.process", Value: text, Rule: "is not a welding process on file", Remedy: err.Error()}}, nil)
		}
	}
	metal := family
	if metal == "" {
		metal = "any metal"
	}
	return documents.Suits(thickness, family, string(process)), j.quantities().length(float64(thickness)) + ", " + metal + ", " + string(process), nil
}

// nameLength letters a length in the name of a preparation as it is lettered
// elsewhere; millimetres go without their unit.
func (j *job) nameLength(mm float64) string {
	return strings.TrimSuffix(j.quantities().length(mm), " mm")
}

// probe reads the joint for its plates alone: the preparations on file bring
// their own edges, so that a weld or an edge that does not fit as given stops
// nothing; whole is false where it had to be taken away.
func (s *set) probe(h string, assignments []string) (j *job, whole bool, err error) {
	k := s.kind(h)
	bare := slices.DeleteFunc(s.unprepared(h, assignments), func(x string) bool { return s.isWeld(h, x) })
	tries := [][]string{assignments}
	if k != nil && len(k.Welds) > 0 {
		tries = append(tries, s.replace(h, bare, flush(k)))
		// Only a prepared member can be filled flush.
		if prep, ok := k.Param("prep"); ok && len(prep.Choices) > 1 {
			tries = append(tries, s.replace(h, bare, append(flush(k), "prep="+prep.Choices[1])))
		}
	}
	var least error // with the fewest faults: those that no try takes away
	for i, own := range tries {
		j, err := s.job(&alternative{head: h, assignments: own}, math.NaN())
		if err == nil {
			return j, i == 0, nil
		}
		if least == nil || len(jointfile.AsFaults(err)) < len(jointfile.AsFaults(least)) {
			least = err
		}
	}
	return nil, false, least
}

func (s *set) isWeld(h, assignment string) bool {
	return strings.HasPrefix(s.fullName(h, assignment), "welds.")
}

// laid says how the weld of a preparation is laid where the joint does not: each
// flush, or all with the usual cap where closed square edges would hold no
// metal without one.
func (s *set) laid(p *segment, k *joints.Kind, j *job, whole bool, candidates []compare.Candidate) func(*compare.Candidate) []string {
	h := p.heads[0]
	of := func(name string) (text string, given bool) {
		for _, x := range p.assignments {
			if s.fullName(h, x) == name {
				_, text, given = strings.Cut(x, "=")
			}
		}
		return text, given || whole && j.doc.Given(name)
	}
	show := func(l geometry.Length) string {
		return compare.Show(float64(l), compare.SweepSyntax{Form: jointfile.LengthForm})
	}
	thickness, _ := j.preparedPlate()
	rise, lap := joints.UsualCap(thickness)
	text, capped := of("welds.arrow.cap")
	_, lapped := of("welds.arrow.cap-lap")
	closed := slices.ContainsFunc(candidates, func(c compare.Candidate) bool { return c.Closed })
	welded := s.sources[h].path != "" || slices.ContainsFunc(p.assignments, func(x string) bool { return s.isWeld(h, x) })
	var all, square []string
	switch {
	case closed && !capped:
		all = []string{"cap=" + show(rise)}
		s.notes = append(s.notes, fmt.Sprintf("no cap is given: each weld has one of %s, for closed square edges hold no metal without (common practice, no source); cap=… gives your own", j.quantities().length(float64(rise))))
	case !welded && len(k.Welds) > 0:
		all = flush(k)
		s.notes = append(s.notes, "no weld is described: each preparation is filled flush")
	case capped:
		own, err := geometry.ParseLength(text, geometry.LengthSyntax{Bare: s.bare(h, p.assignments)})
		if err != nil { // of a file; a mistake is told when it is built
			own = j.doc.Section.Welds[0].CapHeight.Value
		}
		lap, lapped = max(lap, 2*own), lapped || own == 0
	}
	if closed && !lapped {
		square = []string{"cap-lap=" + show(lap)}
		s.notes = append(s.notes, fmt.Sprintf("the cap on square edges reaches %s to each side (common practice, no source); cap-lap=… gives your own", j.quantities().length(float64(lap))))
	}
	return func(c *compare.Candidate) []string {
		if c.Square {
			return append(slices.Clone(all), square...)
		}
		return all
	}
}

// flush is what fills a preparation of a kind flush.
func flush(k *joints.Kind) []string {
	if _, ok := k.Welds[0].Param("cap"); ok {
		return []string{"cap=0"}
	}
	return []string{"penetration=0"}
}

// preparationNames are the names that a preparation sets.
var preparationNames = []string{"prep", "groove-angle", "bevel-angle", "root-face", "root-radius", "depth", "root-opening", "gap",
	"other-groove-angle", "other-bevel-angle", "other-root-radius", "other-depth", "backing", "sides"}

// unprepared takes the preparation out of the assignments.
func (s *set) unprepared(h string, assignments []string) []string {
	var out []string
	for _, x := range assignments {
		if !slices.Contains(preparationNames, s.fullName(h, x)) {
			out = append(out, x)
		}
	}
	return out
}

// preparedPlate is the thickness that is prepared and its metal: the abutting
// member where one stands on another, else the thinner one.
func (j *job) preparedPlate() (geometry.Length, string) {
	s := &j.doc.Section
	i := s.ThinnerMember()
	for k := range s.Members {
		if s.Members[k].Ways < s.Members[i].Ways {
			i = k
		}
	}
	return s.Members[i].Thickness, j.families()[i]
}
