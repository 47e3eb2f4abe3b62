package jointfile

import (
	"strings"

	"fay/geometry"
	"fay/joints"
)

// form is how a field is written.
type form uint8

const (
	formText    form = iota // one line of text
	formLength              // a length, with a tolerance where the kind's own
	formLengths             // one length or two
	formAngle
	formAngles // one angle or two
	formNumber
	formCount  // a whole number from 1
	formChoice // one word of a list
	formFlag
	formDate // YYYY-MM-DD
	formList // lines of text
)

// field describes one value of a joint file, by its full name.
type field struct {
	path    string
	form    form
	limits  joints.Range // lengths in mm, angles in radians, counts
	choices []string
	param   *joints.Param // nil for the fields that every kind has
	doc     string
	sample  string // as a starter file shows it
	// group names fields that exclude each other, besides those of a kind.
	group string
}

// Ranges of the fields that every kind has: wide of practice, to catch a wrong
// unit or a slipped decimal point.
var (
	seamRange     = joints.Range{Min: 1, Max: 100_000}
	aroundRange   = joints.Range{Min: 3, Max: 100_000}
	countRange    = joints.Range{Min: 1, Max: 100_000}
	quantityRange = joints.Range{Min: 1, Max: 1_000_000}
	rodRange      = joints.Range{Min: 0.3, Max: 12}
	rodLength     = joints.Range{Min: 50, Max: 5000}
	stubRange     = joints.Range{Min: 0, Max: 5000}
)

const (
	maxLine  = 120 // characters of a text: more than a title block prints
	maxItems = 100 // entries of a list
)

// common are the fields that every kind has, in the order of a starter file.
var common = []field{
	{path: "title", form: formText, doc: "name of the joint on the sheet, instead of the kind's", sample: "davit foot to deck plate"},
	{path: "traveler.job", form: formText, doc: "job number", sample: "CB-117"},
	{path: "traveler.part", form: formText, doc: "part", sample: "davit foot"},
	{path: "traveler.joint", form: formText, doc: "joint mark on the drawing", sample: "W3"},
	{path: "traveler.revision", form: formText, doc: "revision", sample: "A"},
	{path: "traveler.quantity", form: formCount, limits: quantityRange, doc: "parts to make", sample: "16"},
	{path: "traveler.planner", form: formText, doc: "who planned it", sample: "planning"},
	{path: "traveler.date", form: formDate, doc: "year-month-day", sample: "2026-03-02"},
	{path: "traveler.changed", form: formDate, doc: "day of the revision, year-month-day", sample: "2026-03-09"},
	{path: "traveler.reason", form: formText, doc: "why it was revised", sample: "gap opened after the trial piece"},
	{path: "traveler.revised-by", form: formText, doc: "who revised it", sample: "drawing office"},
	{path: "seam.length", form: formLength, limits: seamRange, group: "seam", doc: "length of one straight seam", sample: "180"},
	{path: "seam.around", form: formLength, limits: aroundRange, group: "seam", doc: "diameter of a round seam, instead of length", sample: "60"},
	{path: "seam.axis", form: formChoice, choices: []string{string(joints.AxisUpright), string(joints.AxisLevel)},
		doc: "axis of a round seam: upright for a tube on a plate, level for tubes end to end", sample: string(joints.AxisUpright)},
	{path: "seam.inside", form: formFlag, doc: "yes: the arrow side faces the axis of a round seam", sample: "no"},
	{path: "seam.count", form: formCount, limits: countRange, doc: "seams alike on one part", sample: "1"},
	{path: "seam.segment", form: formLength, limits: seamRange, doc: "length of each segment of an intermittent weld", sample: "30"},
	{path: "seam.pitch", form: formLength, limits: seamRange, doc: "segments centre to centre", sample: "60"},
	{path: "seam.segments", form: formCount, limits: countRange, doc: "how many segments; as many as fit when left out", sample: "3"},
	{path: "seam.staggered", form: formFlag, doc: "yes: the other side's segments stand half a pitch on", sample: "no"},
	{path: seamWelds, form: formList, doc: "the welds that this seam has; all of them when left out"},
	{path: "filler.type", form: formText, doc: "name in the filler table", sample: "5183"},
	{path: "filler.diameter", form: formLength, limits: rodRange, doc: "rod or wire diameter", sample: "2.4mm"},
	{path: "filler.length", form: formLength, limits: rodLength, doc: "cut length of a rod", sample: "1000mm"},
	{path: "filler.stub", form: formLength, limits: stubRange, doc: "what is left of each rod", sample: "50mm"},
	{path: "filler.stub-fused", form: formFlag, doc: "yes: stubs are fused to the next rod, none is lost", sample: "no"},
	{path: "filler.process", form: formText, doc: "welding process", sample: "gtaw"},
	{path: "checks", form: formList, doc: "rule documents to check against", sample: "[aisc-360-16, iso-5817-2014/C]"},
	{path: "notes", form: formList, doc: "lines for the bench", sample: "[tack both ends first]"},
	{path: materialField, form: formText, doc: "metal of every member that names none of its own", sample: "EN AW-6082"},
	{path: "units", form: formChoice, choices: []string{"mm", "in"}, doc: "unit of a number without one: mm or in", sample: "mm"},
}

// Names with a meaning of their own.
const (
	jointField = "joint"
	unitsField = "units"
	sidesField = "sides"
	bothSides  = "both"
	weldsGroup = "welds"
	seamGroup  = "seam"
	seamsGroup = "seams"
	seamWelds  = "seam.welds"
	// materialField is of all members; one of a member's own goes over it.
	materialField = "material"
)

// maxSeams bounds the seams of one joint.
const maxSeams = 100

// book is every name that a joint of one kind can use. It is not changed once
// it is made, so that one serves all readers.
type book struct {
	kind   *joints.Kind
	fields map[string]*field
	order  []string
	welds  [][]*field      // of each weld slot, in the order of its parameters
	groups map[string]bool // names with names below them, by full name
}

// books are the books of the kinds on file: a kind's description never changes.
var books = func() map[*joints.Kind]*book {
	m := make(map[*joints.Kind]*book, len(joints.Kinds)+1)
	for i := range joints.Kinds {
		m[&joints.Kinds[i]] = newBook(&joints.Kinds[i])
	}
	m[nil] = newBook(nil)
	return m
}()

// bookOf is the book of a kind, nil for one that is not known.
func bookOf(kind *joints.Kind) *book {
	if b, ok := books[kind]; ok {
		return b
	}
	return newBook(kind)
}

func newBook(kind *joints.Kind) *book {
	b := &book{kind: kind, fields: map[string]*field{}, groups: map[string]bool{}}
	for i := range common {
		b.put(common[i])
	}
	b.put(field{path: jointField, form: formText})
	if kind == nil {
		return b
	}
	for _, m := range kind.Members {
		b.put(field{path: m.Name + ".thickness", form: formLength, doc: m.Doc})
		b.put(field{path: m.Name + ".material", form: formText, doc: m.Doc})
	}
	for i := range kind.Params {
		b.put(fieldOf(kind.Params[i].Name, &kind.Params[i]))
	}
	ids := make([]string, 0, len(kind.Welds)+1)
	for i := range kind.Welds {
		slot := &kind.Welds[i]
		ids = append(ids, slot.ID)
		b.groups[weldsGroup+"."+slot.ID] = true
		fields := make([]*field, len(slot.Params))
		for j := range slot.Params {
			path := weldsGroup + "." + slot.ID + "." + slot.Params[j].Name
			b.put(fieldOf(path, &slot.Params[j]))
			fields[j] = b.fields[path]
		}
		b.welds = append(b.welds, fields)
	}
	if len(ids) > 1 {
		b.put(field{path: sidesField, form: formChoice, choices: append(ids, bothSides)})
	}
	return b
}

func (b *book) put(f field) {
	b.fields[f.path] = &f
	b.order = append(b.order, f.path)
	for path := f.path; ; {
		i := strings.LastIndexByte(path, '.')
		if i < 0 {
			return
		}
		path = path[:i]
		b.groups[path] = true
	}
}

func fieldOf(path string, p *joints.Param) field {
	f := field{path: path, param: p, choices: p.Choices, doc: p.Doc}
	switch p.Type {
	case joints.ParamLength:
		f.form = formLength
	case joints.ParamLengths:
		f.form = formLengths
	case joints.ParamAngle:
		f.form = formAngle
	case joints.ParamAngles:
		f.form = formAngles
	case joints.ParamNumber:
		f.form = formNumber
	case joints.ParamChoice:
		f.form = formChoice
	case joints.ParamFlag:
		f.form = formFlag
	}
	return f
}

// resolve turns a name as written into the full name of a field or a group.
// bare is set where the name is a weld's parameter without a weld: path is
// then the parameter's own name.
func (b *book) resolve(name string) (path string, bare, ok bool) {
	if b.fields[name] != nil {
		return name, false, true
	}
	name = canonical(name)
	if b.field(name) != nil || b.group(name) {
		return name, false, true
	}
	if b.kind == nil || len(b.kind.Welds) == 0 {
		return "", false, false
	}
	if long := weldsGroup + "." + name; b.fields[long] != nil || b.groups[long] {
		return long, false, true
	}
	if _, ok := b.kind.Welds[0].Param(name); ok {
		return name, true, true
	}
	return "", false, false
}

// Names lists the names a joint of the kind can be given, shortest form each,
// for completion and manuals.
func Names(kind *joints.Kind) []string {
	b := bookOf(kind)
	var names []string
	for _, path := range b.order {
		name := strings.TrimSuffix(path, ".thickness")
		if rest, ok := strings.CutPrefix(path, weldsGroup+"."); ok {
			name = rest
			if bare, ok := strings.CutPrefix(rest, kind.Welds[0].ID+"."); ok {
				if b.fields[bare] == nil && !b.groups[bare] {
					name = bare
				}
			}
		}
		if path != jointField {
			names = append(names, name)
		}
	}
	return names
}

// isMember reports whether the name is a member's, which alone stands for its
// thickness.
func isMember(b *book, name string) bool {
	if b.kind == nil {
		return false
	}
	_, ok := b.kind.Member(name)
	return ok
}

// below names something that may stand in a group.
func (b *book) below(group string) string {
	if group == seamsGroup {
		return "2.length"
	}
	for _, path := range b.order {
		if rest, ok := strings.CutPrefix(path, template(group)+"."); ok {
			first, _, _ := strings.Cut(rest, ".")
			return first
		}
	}
	return ""
}

// near returns the nearest right name for a wrong one.
func (b *book) near(name string) string {
	if len(name) > longestShown {
		return ""
	}
	group, last := "", name
	if i := strings.LastIndexByte(name, '.'); i >= 0 {
		if path, _, ok := b.resolve(name[:i]); ok && b.group(path) {
			group, last = template(path)+".", name[i+1:]
		}
	}
	var candidates []string
	add := func(path string) {
		rest, ok := strings.CutPrefix(path, group)
		if ok && rest != "" && !strings.Contains(rest, ".") {
			candidates = append(candidates, rest)
		}
	}
	for _, path := range b.order {
		add(path)
	}
	if b.kind != nil {
		for _, m := range b.kind.Members {
			add(m.Name)
		}
		for _, w := range b.kind.Welds {
			add(weldsGroup + "." + w.ID)
			if group == "" {
				add(w.ID)
			}
		}
		if group == "" && len(b.kind.Welds) > 0 {
			for _, p := range b.kind.Welds[0].Params {
				add(p.Name)
			}
		}
	}
	if group == "" {
		candidates = append(candidates, "traveler", seamGroup, seamsGroup, "filler", weldsGroup)
	}
	near := joints.Nearest(last, candidates)
	if near == "" {
		return ""
	}
	return name[:len(name)-len(last)] + near
}

// unitOf reads the two units a file may be written in.
func unitOf(word string) geometry.Unit {
	if word == "in" {
		return geometry.UnitInch
	}
	return geometry.UnitMM
}
