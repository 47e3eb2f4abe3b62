package cli

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/check/documents"
	"fay/joints/compare"
	"fay/joints/jointfile"
)

// alternative is one joint to compare.
type alternative struct {
	name        string
	note        string
	head        string // kind, file or -
	assignments []string
	// lenient: it came from a sweep or a table, so that numbers that do not
	// fit are a result and no mistake.
	lenient bool
}

// set is the alternatives of a comparison.
type set struct {
	settings *config.Settings
	list     []alternative
	sweep    *compare.Sweep
	left     []string // preparations the kind does not take
	notes    []string
	heat     []string // cautions of the heat
	sources  map[string]head
	units    geometry.Unit // of the first joint that was built
}

// head is what a joint is read from, read once.
type head struct {
	src  jointfile.Source
	path string
}

// The words between alternatives.
const (
	wordVs           = "vs"
	wordAs           = "as"
	wordSweep        = "sweep"
	wordStep         = "step"
	wordPreparations = "preparations"
)

// segment is what stands between two vs.
type segment struct {
	heads        []string
	assignments  []string
	name         string
	sweep, step  string
	preparations bool
}

// segments divides the arguments.
func segments(args []string) ([]segment, error) {
	out := []segment{{}}
	for i := 0; i < len(args); i++ {
		s, word := &out[len(out)-1], args[i]
		next := func(what string) (string, error) {
			if i+1 >= len(args) || args[i+1] == wordVs {
				return "", usage(word+": is the last word", "write "+word+" "+what)
			}
			i++
			return args[i], nil
		}
		var err error
		switch {
		case word == wordVs:
			out = append(out, segment{})
		case word == wordAs:
			s.name, err = next("NAME")
		case word == wordSweep && s.sweep != "":
			return nil, usage("sweep: is given twice", "sweep one name at a time")
		case word == wordSweep:
			s.sweep, err = next("leg=4..10")
		case word == wordPreparations:
			s.preparations = true
		case s.sweep != "" && strings.HasPrefix(word, wordStep+"="):
			s.step = strings.TrimPrefix(word, wordStep+"=")
		case strings.Contains(word, "="):
			s.assignments = append(s.assignments, word)
		case len(s.assignments) > 0:
			return nil, usage(fmt.Sprintf("%q: stands behind assignments and is none", word), "write vs before another joint, or name=value")
		default:
			s.heads = append(s.heads, word)
		}
		if err != nil {
			return nil, err
		}
	}
	for i := range out {
		s := &out[i]
		switch {
		case i == 0 && len(s.heads) == 0:
			return nil, usage("no joint given", "name joint files, or a kind with its values, such as: "+joints.Kinds[0].Example)
		case i > 0 && len(s.heads) == 0 && len(s.assignments) == 0:
			return nil, usage("vs: nothing stands behind it", "write what is different, such as vs leg=5")
		case i > 0 && len(s.heads) > 1:
			return nil, usage(strings.Join(s.heads, " ")+": more than one joint behind vs", "write vs before each")
		case s.name != "" && len(s.heads) > 1:
			return nil, usage("as "+s.name+": stands behind more than one joint", "write vs between them")
		case (s.sweep != "" || s.preparations) && (len(out) > 1 || len(s.heads) > 1 || s.sweep != "" && s.preparations):
			return nil, usage("sweep and preparations stand alone, with one joint", "compare one joint at a time")
		}
	}
	return out, nil
}

// alternatives reads the arguments.
func (a *app) alternatives(settings *config.Settings, o *compareOptions) (*set, error) {
	parts, err := segments(o.args)
	if err != nil {
		return nil, err
	}
	s := &set{settings: settings, sources: map[string]head{}}
	for i := range parts {
		for _, h := range parts[i].heads {
			if _, ok := s.sources[h]; ok {
				continue
			}
			src, path, err := a.source(h)
			if err != nil {
				return nil, err
			}
			if err := apartFrom(path, o.output); err != nil {
				return nil, err
			}
			s.sources[h] = head{src, path}
		}
	}
	first := &parts[0]
	switch {
	case first.sweep != "":
		err = s.swept(first)
	case first.preparations:
		err = s.prepared(first)
	default:
		s.described(parts)
	}
	if err != nil {
		return nil, err
	}
	s.nameApart()
	if o.breakEven == "" && len(s.list) < 2 {
		return nil, usage("only one alternative is given", "write vs with what is different, sweep leg=4..10, or preparations")
	}
	return s, nil
}

// described takes the alternatives as they are written.
func (s *set) described(parts []segment) {
	first := &parts[0]
	changed := map[string]bool{} // full names that a later one changes
	for _, p := range parts[1:] {
		if len(p.heads) > 0 {
			continue
		}
		for _, x := range p.assignments {
			changed[s.fullName(first.heads[0], x)] = true
		}
	}
	for _, h := range first.heads {
		alt := alternative{name: s.headName(h), head: h, assignments: first.assignments}
		if first.name != "" {
			alt.name = first.name
		} else if len(changed) > 0 && len(first.heads) == 1 {
			var own []string
			for _, x := range first.assignments {
				if changed[s.fullName(h, x)] {
					own = append(own, x)
				}
			}
			if len(own) > 0 {
				alt.name = strings.Join(own, " ")
			}
		}
		s.list = append(s.list, alt)
	}
	for _, p := range parts[1:] {
		alt := alternative{name: p.name}
		if len(p.heads) > 0 {
			alt.head, alt.assignments = p.heads[0], p.assignments
			if alt.name == "" {
				alt.name = s.headName(p.heads[0])
			}
		} else {
			alt.head = first.heads[0]
			alt.assignments = s.replace(alt.head, first.assignments, p.assignments)
			if alt.name == "" {
				alt.name = strings.Join(p.assignments, " ")
			}
		}
		s.list = append(s.list, alt)
	}
}

// headName is the name of a joint: that of its file or its kind.
func (s *set) headName(h string) string {
	if s.sources[h].path == "" {
		return h
	}
	base := filepath.Base(h)
	return strings.TrimSuffix(base, filepath.Ext(base))
}

// kind is the kind of a head; of a file it is known only when it is read.
func (s *set) kind(h string) *joints.Kind {
	if k, ok := joints.LookupKind(h); ok {
		return k
	}
	if doc, err := jointfile.Read(s.sources[h].src); err == nil {
		k, _ := joints.LookupKind(doc.Section.Kind)
		return k
	}
	return nil
}

// fullName is what an assignment sets.
func (s *set) fullName(h, assignment string) string {
	name, _, _ := strings.Cut(assignment, "=")
	if k := s.kind(h); k != nil {
		if path, _, ok := jointfile.Lookup(k, name); ok {
			return path
		}
	}
	return name
}

// replace puts later assignments over earlier ones. An empty value takes one
// away.
func (s *set) replace(h string, earlier, later []string) []string {
	over := map[string]bool{}
	for _, x := range later {
		over[s.fullName(h, x)] = true
	}
	var out []string
	for _, x := range earlier {
		if !over[s.fullName(h, x)] {
			out = append(out, x)
		}
	}
	for _, x := range later {
		// A file may give what is taken away; an assignment of ours is gone.
		if strings.HasSuffix(x, "=") && s.sources[h].path == "" {
			continue
		}
		out = append(out, x)
	}
	return out
}

// swept writes out a sweep.
func (s *set) swept(p *segment) error {
	h := p.heads[0]
	name, _, _ := strings.Cut(p.sweep, "=")
	syn := compare.SweepSyntax{Form: jointfile.LengthForm, Bare: s.bare(h, p.assignments), Step: p.step}
	if name != compare.Variable {
		k := s.kind(h)
		if k == nil {
			_, err := readJob(s.settings, new(s.sources[h].src), h)
			return err
		}
		_, form, ok := jointfile.Lookup(k, name)
		if !ok {
			hint := "`fay new " + k.Name + "` shows every name; the letter t stands for the value in other assignments"
			if near := jointfile.Near(k, name); near != "" {
				hint = "did you mean " + near + "? " + hint
			}
			return usage(fmt.Sprintf("sweep %s: a %s joint has no such name", name, k.Name), hint)
		}
		syn.Form = form
	} else if !slices.ContainsFunc(p.assignments, compare.Uses) {
		return usage("sweep t: no assignment depends on t", "write stem=t, leg=0.75t or the like")
	}
	sweep, err := compare.ParseSweep(p.sweep, syn)
	if err != nil {
		return err
	}
	s.sweep = &sweep
	for _, text := range sweep.Texts {
		alt := alternative{name: name + "=" + text, head: h, lenient: true}
		if name == compare.Variable {
			t, err := geometry.ParseLength(text, geometry.LengthSyntax{Bare: syn.Bare})
			if err != nil {
				return fmt.Errorf("sweep: %w", err) // ParseSweep has read it
			}
			alt.assignments = substituted(p.assignments, t)
		} else {
			alt.assignments = s.replace(h, p.assignments, []string{name + "=" + text})
		}
		s.list = append(s.list, alt)
	}
	return nil
}

func substituted(assignments []string, t geometry.Length) []string {
	out := make([]string, len(assignments))
	for i, x := range assignments {
		out[i] = compare.Substitute(x, t)
	}
	return out
}

// bare is the unit of a number without one.
func (s *set) bare(h string, assignments []string) geometry.Unit {
	for _, x := range assignments {
		switch strings.ToLower(x) {
		case "units=in":
			return geometry.UnitInch
		case "units=mm":
			return geometry.UnitMM
		}
	}
	src := s.sources[h].src
	src.Units = s.settings.Units
	if doc, err := jointfile.Read(src); err == nil {
		return doc.Units
	}
	return s.settings.Units
}

// prepared writes out the preparations that suit the joint's plates.
func (s *set) prepared(p *segment) error {
	h := p.heads[0]
	k := s.kind(h)
	assignments := p.assignments
	probe := alternative{head: h, assignments: assignments}
	welded := slices.ContainsFunc(assignments, func(x string) bool { return strings.HasPrefix(s.fullName(h, x), "welds.") })
	if !welded && s.sources[h].path == "" {
		// A weld there must be; without a word on it, it is flush.
		flush := "cap=0"
		if k != nil && len(k.Welds) > 0 {
			if _, ok := k.Welds[0].Param("cap"); !ok {
				flush = "penetration=0"
			}
		}
		assignments = append(slices.Clone(assignments), flush)
		probe.assignments = assignments
		// Only a prepared member can be filled flush.
		if _, err := s.job(&probe, math.NaN()); err != nil && k != nil {
			if prep, ok := k.Param("prep"); ok && len(prep.Choices) > 1 {
				probe.assignments = s.replace(h, assignments, []string{"prep=" + prep.Choices[1]})
			}
		}
	}
	j, err := s.job(&probe, math.NaN())
	if err != nil {
		return err
	}
	k, _ = joints.LookupKind(j.doc.Section.Kind)
	thickness, family := j.preparedPlate()
	process := j.settings.Process
	if text := j.doc.Filler.Process; text != "" {
		if process, err = config.ParseProcess(text); err != nil {
			return j.placed(joints.Faults{{Code: joints.FaultUnknown, Field: "filler.process", Value: text, Rule: "is not a welding process on file", Remedy: err.Error()}}, nil)
		}
	}
	rows := documents.Suits(thickness, family, string(process))
	candidates, left := compare.Preparations(k, rows)
	s.left = left
	if slices.ContainsFunc(p.assignments, func(x string) bool { return strings.HasPrefix(x, "prep=") }) || s.sources[h].path != "" {
		s.list = append(s.list, alternative{name: "as given", head: h, assignments: p.assignments})
	}
	// What a file says of its own preparation is taken away.
	var gone []string
	if s.sources[h].path != "" {
		for _, name := range preparation {
			if j.doc.Given(name) {
				gone = append(gone, name+"=")
			}
		}
	}
	for _, c := range candidates {
		own := s.replace(h, s.unprepared(h, assignments), s.replace(h, gone, c.Assignments))
		s.list = append(s.list, alternative{name: c.Name, note: c.Note, head: h, assignments: own, lenient: true})
	}
	q := j.quantities()
	metal := family
	if metal == "" {
		metal = "any metal"
	}
	s.notes = append(s.notes, fmt.Sprintf("preparations on file for %s, %s, %s", q.length(float64(thickness)), metal, process))
	if len(candidates) == 0 {
		return usage("no preparation on file suits "+q.length(float64(thickness))+" of "+metal+" by "+string(process), "name the material, another process, or compare your own with vs prep=…")
	}
	return nil
}

// preparation are the names that a preparation sets.
var preparation = []string{"prep", "groove-angle", "bevel-angle", "root-face", "root-radius", "depth", "root-opening", "gap",
	"other-groove-angle", "other-bevel-angle", "other-root-radius", "other-depth", "backing", "sides"}

// unprepared takes the preparation out of the assignments.
func (s *set) unprepared(h string, assignments []string) []string {
	var out []string
	for _, x := range assignments {
		if !slices.Contains(preparation, s.fullName(h, x)) {
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

// job reads one alternative; the variable takes the value where it is not NaN.
func (s *set) job(alt *alternative, t float64) (*job, error) {
	h := s.sources[alt.head]
	src := h.src
	src.Assignments, src.First = alt.assignments, 2
	if !math.IsNaN(t) {
		src.Assignments = substituted(alt.assignments, geometry.Length(t))
	}
	return readJob(s.settings, &src, h.path)
}

// took keeps the notes of a joint, each once.
func (s *set) took(j *job) {
	if s.units == 0 {
		s.units = j.doc.Units
	}
	for _, n := range j.notes {
		if !slices.Contains(s.notes, n) {
			s.notes = append(s.notes, n)
		}
	}
}

// nameApart numbers alternatives of one name.
func (s *set) nameApart() {
	seen := map[string]int{}
	for i := range s.list {
		alt := &s.list[i]
		seen[alt.name]++
		if n := seen[alt.name]; n > 1 {
			alt.name = fmt.Sprintf("%s (%d)", alt.name, n)
		}
	}
}

// misfits are the faults that say that numbers do not fit together: what a
// sweep is made to find.
var misfits = []joints.FaultCode{joints.FaultRange, joints.FaultLeg, joints.FaultFace, joints.FaultFusion, joints.FaultOverlap,
	joints.FaultGeometry, joints.FaultUnfit, joints.FaultConflict}

// unfit reports whether all that is wrong is that numbers do not fit.
func unfit(err error) bool {
	faults := jointfile.AsFaults(err)
	for i := range faults {
		if !slices.Contains(misfits, faults[i].Code) {
			return false
		}
	}
	return len(faults) > 0
}

// unfitReason says it in one line.
func unfitReason(err error) string {
	if faults := jointfile.AsFaults(err); len(faults) > 0 {
		return faults[0].Field + ": " + faults[0].Rule
	}
	return err.Error()
}

// errNoCurve is a metric that an alternative does not have.
var errNoCurve = errors.New("the metric is not known")
