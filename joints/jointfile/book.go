package jointfile

import (
	"maps"
	"strings"

	"fay/joints"
)

// book is every name that a joint of one kind can use. It is not changed once
// it is made, so that one serves all readers.
type book struct {
	kind   *joints.Kind
	fields map[string]*field // by full name
	order  []string
	size   fieldNo            // numbers of fields are below this one
	groups map[string]bool    // names with names below them, by full name
	names  map[string]meaning // by every way to write them, but for seams after the first

	// Of the kind, in the order of its description.
	members [][2]*field // thickness and material
	params  []*field
	welds   [][]*field // of each weld slot
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
		b.put(fieldNo(i), common[i])
	}
	b.put(jointNo, field{path: jointField, form: formText})
	b.size = firstOfKind
	if kind != nil {
		b.ofKind()
	}
	b.call()
	return b
}

// ofKind adds the fields of the kind.
func (b *book) ofKind() {
	for _, m := range b.kind.Members {
		b.members = append(b.members, [2]*field{
			b.add(field{path: m.Name + ".thickness", form: formLength, doc: m.Doc}),
			b.add(field{path: m.Name + ".material", form: formText, doc: m.Doc}),
		})
	}
	for i := range b.kind.Params {
		p := &b.kind.Params[i]
		b.params = append(b.params, b.add(fieldOf(p.Name, p)))
	}
	ids := make([]string, 0, len(b.kind.Welds)+1)
	for i := range b.kind.Welds {
		slot := &b.kind.Welds[i]
		ids = append(ids, slot.ID)
		b.groups[weldsGroup+"."+slot.ID] = true
		fields := make([]*field, len(slot.Params))
		for j := range slot.Params {
			p := &slot.Params[j]
			fields[j] = b.add(fieldOf(weldsGroup+"."+slot.ID+"."+p.Name, p))
		}
		b.welds = append(b.welds, fields)
	}
	if len(ids) > 1 {
		b.put(sidesNo, field{path: sidesField, form: formChoice, choices: append(ids, bothSides)})
	}
}

// add puts a field of the kind under the next number.
func (b *book) add(f field) *field {
	b.size++
	return b.put(b.size-1, f)
}

func (b *book) put(no fieldNo, f field) *field {
	f.no = no
	b.fields[f.path] = &f
	b.order = append(b.order, f.path)
	for path := f.path; ; {
		i := strings.LastIndexByte(path, '.')
		if i < 0 {
			return &f
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

// meaning is what a name as written stands for: the full name of a field or a
// group.
type meaning struct {
	path string
	// field is nil for a group; that of a member is its thickness, which the
	// member's name alone stands for.
	field *field
	// bare is set where it is a weld's parameter without a weld: path is then
	// the parameter's own name and field that of the first weld.
	bare bool
}

// resolve finds what a name as written stands for.
func (b *book) resolve(written string) (meaning, bool) {
	if n, ok := b.names[written]; ok {
		return n, true
	}
	// Seams are too many for all to be in the book.
	path := canonical(written)
	if f := b.field(path); f != nil || b.group(path) {
		return meaning{path: path, field: f}, true
	}
	return meaning{}, false
}

// call settles what every name stands for. Where names are alike, full names
// win over those of welds without their group, and these over parameters
// without their weld.
func (b *book) call() {
	b.names = make(map[string]meaning, 2*len(b.fields))
	add := func(written string, n meaning) {
		if _, taken := b.names[written]; !taken {
			b.names[written] = n
		}
	}
	for path, f := range b.fields {
		add(path, meaning{path: path, field: f})
	}
	add(seamsGroup, meaning{path: seamsGroup})
	for path := range b.groups {
		n := meaning{path: path}
		if isMember(b, path) {
			n.field = b.fields[path+".thickness"]
		}
		add(path, n)
	}
	for path, n := range maps.Clone(b.names) {
		if short, ok := strings.CutPrefix(path, weldsGroup+"."); ok {
			add(short, n)
		}
	}
	if b.kind == nil || len(b.kind.Welds) == 0 {
		return
	}
	for _, f := range b.welds[0] {
		add(f.param.Name, meaning{path: f.param.Name, field: f, bare: true})
	}
}

// inWeld is the field of a parameter in a weld slot; nil where it has none.
func (b *book) inWeld(slot int, param string) *field {
	for _, f := range b.welds[slot] {
		if f.param.Name == param {
			return f
		}
	}
	return nil
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
		if n, ok := b.resolve(name[:i]); ok && b.group(n.path) {
			group, last = template(n.path)+".", name[i+1:]
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
