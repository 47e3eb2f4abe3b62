package cli

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/compare"
	"fay/joints/jointfile"
)

// alternative is one joint to compare.
type alternative struct {
	name        string
	note        string
	head        string // kind, file or -
	assignments []string
	asked       int // the argument that names it, counted from 1; 0 for none
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
	heat     sayings // cautions of the heat
	heated   int     // alternatives whose heat is known
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
	named        int // the argument that gives the name, counted from 1
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
			s.named = i + 1
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
	if err := s.nameApart(); err != nil {
		return nil, err
	}
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
			alt.name, alt.asked = first.name, first.named
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
		alt := alternative{name: p.name, asked: p.named}
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

// nameApart numbers alternatives that got the same name without anybody asking
// for it, such as files of one name in two folders. A name that was asked for
// twice is refused.
func (s *set) nameApart() error {
	count, asked := map[string]int{}, map[string]int{}
	for i := range s.list {
		alt := &s.list[i]
		if alt.asked == 0 {
			continue
		}
		if first := asked[alt.name]; first > 0 {
			return usage(fmt.Sprintf("argument %d: as %s: argument %d gives another alternative that name", alt.asked, alt.name, first), "write a name of its own behind as")
		}
		asked[alt.name] = alt.asked
		count[alt.name]++
	}
	for i := range s.list {
		alt := &s.list[i]
		if alt.asked > 0 {
			continue
		}
		count[alt.name]++
		if n := count[alt.name]; n > 1 {
			alt.name = fmt.Sprintf("%s (%d)", alt.name, n)
		}
	}
	return nil
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
