package jointfile

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// Traveler is what the sheet prints about the work; empty fields are left for
// the pen.
type Traveler struct {
	Job, Part, Joint, Revision string
	Quantity                   int // 0: not given
	Planner                    string
	Date                       string // YYYY-MM-DD
	// Changed is the date of the revision, YYYY-MM-DD, Reason what it is for.
	Changed, Reason, RevisedBy string
}

// Filler is what the file says of the rod; what is absent comes from the
// shop's settings.
type Filler struct {
	Type      string
	Diameter  joints.Opt
	Length    joints.Opt // cut length
	Stub      joints.Opt
	StubFused *bool
	Process   string
}

// Document is a joint as read and built.
type Document struct {
	Input    joints.Input
	Section  joints.Section
	Traveler Traveler
	// Seams are the runs of weld along the part, and Runs what all of them come
	// to for each weld; both are empty where the input gives no seam.
	Seams  []Seam
	Runs   []Total
	Filler Filler
	Checks []string // never nil
	Notes  []string // never nil
	// Units are those the person wrote in, for printing.
	Units geometry.Unit
	// Digest is the SHA-256 of the joint's meaning, in hexadecimal: the same
	// for any order of keys, comments, units and ways to write a number.
	Digest string

	layer *layer
}

// Source is a joint to read.
type Source struct {
	// Name of the file for messages; empty where there is none, and Data with it.
	Name string
	Data []byte
	// Kind of a one-liner; empty where a file is given.
	Kind string
	// Assignments are the arguments after the file or kind, First the number
	// of the first of them on the command line (0 counts as 1).
	Assignments []string
	First       int
	// Units of bare numbers where neither file nor assignments say.
	Units geometry.Unit
	// FamilyOf gives the gauge family of a material, so that 16ga can be
	// read; nil refuses gauges.
	FamilyOf func(material string) geometry.GaugeFamily
	// Brief asks for the section of [joints.BuildBrief].
	Brief bool
}

// Read reads and builds a joint. The error is [Faults], everything wrong at
// once.
func Read(src Source) (Document, error) {
	first := max(src.First, 1)
	var file *yamlFile
	kindAt := Place{Argument: max(first-1, 1), Text: src.Kind, Column: 1}
	name := src.Kind
	if src.Kind == "" {
		file = parseYAML(src.Name, "joint file", src.Data)
		name, kindAt, _ = file.find(jointField)
		if len(file.faults) > 0 {
			return Document{}, file.faults
		}
	}
	for i, arg := range src.Assignments {
		if text, ok := strings.CutPrefix(arg, jointField+"="); ok && file != nil && text != "" {
			name, kindAt = text, Place{Argument: first + i, Text: arg, Column: len(jointField) + 2}
		}
	}
	kind, known := joints.LookupKind(strings.TrimSpace(name))
	b := bookOf(kind)
	top := assignments(b, src.Assignments, first)
	units := src.Units
	if file != nil {
		weak := file.read(b)
		weak.settle(units)
		if it := weak.items[unitsNo]; it != nil {
			units = unitOf(strings.ToLower(it.text))
		}
		top.settle(units)
		top.takeAway(weak)
		top.over(weak)
	} else {
		top.settle(units)
		if len(top.gone) > 0 {
			top.takeAway(newLayer(b, 0))
		}
		if it := top.items[jointNo]; it != nil {
			top.duplicate(it, kindAt)
		}
	}
	if it := top.items[unitsNo]; it != nil {
		units = unitOf(strings.ToLower(it.text))
	}
	r := &reading{layer: top, familyOf: src.FamilyOf}
	if !known {
		return Document{}, r.unknownKind(name, kindAt, file)
	}
	doc := Document{Units: units, layer: top}
	numbers := r.document(&doc)
	doc.Input.Kind = kind.Name
	if it := top.items[jointNo]; it == nil || kindAt == (Place{}) {
		top.joint = kindAt
	} else {
		top.joint = it.at
	}
	build := joints.Build
	if src.Brief {
		build = joints.BuildBrief
	}
	section, err := build(doc.Input)
	r.building(err, units, len(r.bad) > 0)
	if err != nil {
		section = joints.Section{Kind: kind.Name}
	}
	r.measure(&doc, &section, err == nil, numbers)
	if len(r.faults) > 0 {
		r.nameSeams()
		r.faults.sort()
		return Document{}, r.faults
	}
	doc.Section = section
	doc.Digest = digest(&doc)
	return doc, nil
}

// unknownKind reports a kind that is not on file; the names below it cannot be
// judged then.
func (r *reading) unknownKind(name string, at Place, file *yamlFile) Faults {
	names := make([]string, len(joints.Kinds))
	for i := range joints.Kinds {
		names[i] = joints.Kinds[i].Name
	}
	f := Fault{Place: at, Fault: joints.Fault{Code: joints.FaultUnknown, Field: jointField, Value: shorten(name),
		Rule: "is not a kind of joint on file", Remedy: "use one of " + strings.Join(names, ", ")}}
	if name == "" {
		f.Code, f.Rule = joints.FaultMissing, "a joint file says which kind of joint it is"
		f.Remedy = "write joint: " + strings.Join(names, " or joint: ")
		if file != nil {
			f.Place = file.place(1, 1)
		}
	}
	if len(name) <= longestShown && name != "" {
		if near := joints.Nearest(name, names); near != "" {
			f.Remedy = "did you mean " + near + "? " + f.Remedy
		}
	}
	return Faults{f}
}

// document reads every value into the document.
func (r *reading) document(doc *Document) (seamNumbers []int) {
	kind := r.book.kind
	in := joints.Input{
		Plates: map[string]joints.PlateInput{}, Values: map[string]joints.Value{},
		Welds: map[string]map[string]joints.Value{},
	}
	given := r.items
	in.Title = r.text(given[titleNo])
	for i, m := range kind.Members {
		r.plate(m.Name, r.book.members[i], in.Plates)
	}
	for i := range kind.Params {
		p := &kind.Params[i]
		if it := given[r.book.params[i].no]; it != nil {
			if v, ok := r.param(p, it); ok {
				in.Values[p.Name] = v
			}
		}
	}
	r.sides()
	for i := range kind.Welds {
		r.weld(kind.Welds[i].ID, r.book.welds[i], in.Welds)
	}
	weldPrepared(kind, &in)
	doc.Input = in
	doc.Traveler = Traveler{
		Job: r.text(given[jobNo]), Part: r.text(given[partNo]), Joint: r.text(given[markNo]),
		Revision: r.text(given[revisionNo]), Quantity: r.count(given[quantityNo]),
		Planner: r.text(given[plannerNo]), Date: r.date(given[dateNo]),
		Changed: r.date(given[changedNo]), Reason: r.text(given[reasonNo]), RevisedBy: r.text(given[revisedByNo]),
	}
	doc.Seams, seamNumbers = r.seams()
	doc.Filler = Filler{
		Type: r.text(given[fillerTypeNo]), Diameter: r.within(given[fillerDiameterNo]), Length: r.within(given[fillerLengthNo]),
		Stub: r.within(given[fillerStubNo]), Process: r.text(given[processNo]),
	}
	if it, ok := r.scalar(given[stubFusedNo]); ok {
		if yes, ok := r.flag(it); ok {
			doc.Filler.StubFused = &yes
		}
	}
	doc.Checks, doc.Notes = r.lines(given[checksNo]), r.lines(given[notesNo])
	for _, no := range [...]fieldNo{unitsNo, sidesNo} {
		if it, ok := r.scalar(given[no]); ok {
			r.choice(it, it.field.choices)
		}
	}
	return seamNumbers
}

// plate reads a member: its thickness and its material, else that of all.
func (r *reading) plate(name string, fields [2]*field, plates map[string]joints.PlateInput) {
	material := r.text(r.items[fields[1].no])
	if material == "" {
		material = r.text(r.items[materialNo])
	}
	plate := joints.PlateInput{Material: material}
	it, ok := r.scalar(r.items[fields[0].no])
	if ok {
		family := geometry.NoGauge
		if material != "" && r.familyOf != nil {
			family = r.familyOf(material)
		}
		if v, ok := r.length(it, family); ok {
			plate.Thickness = v
		}
	}
	if ok || material != "" {
		plates[name] = plate
	}
}

func (r *reading) weld(id string, fields []*field, welds map[string]map[string]joints.Value) {
	var values map[string]joints.Value
	if len(r.groups) > 0 {
		if _, given := r.groups[weldsGroup+"."+id]; given {
			values = map[string]joints.Value{}
		}
	}
	for _, f := range fields {
		it := r.items[f.no]
		if it == nil {
			continue
		}
		if values == nil {
			values = map[string]joints.Value{}
		}
		if v, ok := r.param(f.param, it); ok {
			values[f.param.Name] = v
		}
	}
	if values != nil {
		welds[id] = values
	}
}

// sides repeats the first weld's values for the second one where `sides: both`
// was said and the second has no value of its own.
func (r *reading) sides() {
	welds := r.book.welds
	it := r.items[sidesNo]
	if it == nil || !strings.EqualFold(it.text, bothSides) || len(welds) < 2 {
		return
	}
	for _, first := range welds[0] {
		it, f := r.items[first.no], r.book.inWeld(1, first.param.Name)
		if it == nil || f == nil || r.items[f.no] != nil {
			continue
		}
		second := *it
		second.path, second.field = f.path, f
		r.items[f.no] = &second
	}
}

// building maps the faults of building the section back to where its values
// were written.
// In a partial input, other values are wrong already: what only follows from
// them is left out.
func (r *reading) building(err error, units geometry.Unit, partial bool) {
	if err == nil {
		return
	}
	faults := joints.AsFaults(err)
	if faults == nil {
		r.faults = append(r.faults, Fault{Place: r.where(jointField), Fault: joints.Fault{
			Code: joints.FaultGeometry, Field: jointField, Rule: "the section cannot be drawn: " + err.Error(),
			Remedy: "check the sizes against each other",
		}})
		return
	}
	for _, f := range faults {
		if partial && !r.standsAlone(f) {
			continue
		}
		it := r.item(f.Field)
		if it == nil {
			it = r.item(f.Field + ".thickness")
		}
		at := r.where(f.Field)
		if it != nil && it.isList {
			for _, entry := range it.list {
				if strings.EqualFold(entry.text, f.Value) {
					at = entry.at
				}
			}
		} else if it != nil {
			f.Value = asGiven(written(it), f.Value)
		}
		if units == geometry.UnitInch {
			f.Rule, f.Remedy = withInches(f.Rule), withInches(f.Remedy)
		}
		r.faults = append(r.faults, Fault{Fault: f, Place: at})
	}
}

// withInches adds inches to the millimetres of a message.
func withInches(text string) string {
	return regexp.MustCompile(`(\d+(?:\.\d+)?) mm\b`).ReplaceAllStringFunc(text, func(mm string) string {
		v, err := strconv.ParseFloat(strings.TrimSuffix(mm, " mm"), 64)
		if err != nil {
			return mm
		}
		in := geometry.Length(v).Inches()
		return mm + " (" + strconv.FormatFloat(math.Round(in*1e4)/1e4, 'f', -1, 64) + " in)"
	})
}

// standsAlone reports whether a fault of building still means something when
// other values could not be read: a range does, a shape that depends on
// several values does not.
func (r *reading) standsAlone(f joints.Fault) bool {
	switch f.Code {
	case joints.FaultRange, joints.FaultNotNumber, joints.FaultUnknown:
		return !r.bad[f.Field]
	case joints.FaultMissing:
		group := f.Field
		if i := strings.LastIndexByte(group, '.'); i >= 0 {
			group = group[:i]
		}
		for path := range r.bad {
			if path == f.Field || path == group || strings.HasPrefix(path, group+".") {
				return false
			}
		}
		return true
	default:
		return false
	}
}

// asGiven shows a value as it was written, with what it came to where that is
// not the same.
func asGiven(text, value string) string {
	plain := strings.TrimSuffix(strings.TrimSuffix(value, " mm"), "°")
	text = shorten(text)
	if value == "" || text == plain || text == value || text == plain+"mm" {
		if value == "" {
			return text
		}
		return value
	}
	return fmt.Sprintf("%s (%s)", text, value)
}

// where finds the place of a field, or of the nearest thing above it that was
// written.
func (r *reading) where(field string) Place { return r.layer.where(field) }

func (l *layer) where(field string) Place {
	field = canonical(field)
	// checks[1] is an entry of a list, which has a place of its own.
	if name, index, ok := strings.Cut(strings.TrimSuffix(field, "]"), "["); ok {
		it := l.item(name)
		if i, err := strconv.Atoi(index); it != nil && err == nil && i >= 0 && i < len(it.list) {
			return it.list[i].at
		}
		field = name
	}
	for path := field; ; {
		if it := l.item(path); it != nil {
			return it.at
		}
		if it := l.item(path + ".thickness"); it != nil {
			return it.at
		}
		if at, ok := l.groups[path]; ok {
			return at
		}
		i := strings.LastIndexByte(path, '.')
		if i < 0 {
			break
		}
		path = path[:i]
	}
	if it := l.items[jointNo]; it != nil {
		return it.at
	}
	return l.joint
}

// Refuse makes a fault of something found after reading, such as a filler that
// is not on file, and places it where the field was written.
func (d *Document) Refuse(f joints.Fault) Fault {
	at := Place{}
	if d.layer != nil {
		at = d.layer.where(f.Field)
	}
	return Fault{Fault: f, Place: at}
}

// Given reports whether the input itself gave the field.
func (d *Document) Given(field string) bool {
	return d.layer != nil && d.layer.item(canonical(field)) != nil
}
