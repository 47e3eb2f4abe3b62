package jointfile

import (
	"fmt"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// item is one value as written.
type item struct {
	name   string // as written
	path   string // full name
	field  *field // of that name; seams all have those of the first
	text   string
	list   []item // of a list; text is then empty
	isList bool
	at     Place
	bare   bool          // a weld's parameter without a weld; path is then the parameter's own name
	units  geometry.Unit // of its bare numbers
}

// layer is what one source gives: the file, or the assignments.
type layer struct {
	book   *book
	items  []*item          // by the number of their field; nil where none is given
	seams  map[string]*item // of the seams after the first, by full name
	room   []item           // memory for items
	order  []*item
	groups map[string]Place // places of the groups that were written
	joint  Place            // of the kind
	gone   []item           // taken away by an empty assignment
	// bad are the full names that something is wrong with: what is missing or
	// does not fit because of that is not worth a fault of its own.
	bad    map[string]bool
	faults Faults
}

// newLayer makes a layer with room for n values.
func newLayer(b *book, n int) *layer {
	return &layer{book: b, items: make([]*item, b.size), room: make([]item, 0, n), order: make([]*item, 0, n)}
}

// item is the value of a full name; nil where none is given.
func (l *layer) item(path string) *item {
	if f := l.book.fields[path]; f != nil {
		return l.items[f.no]
	}
	return l.seams[path]
}

// set makes the item that of its name; nil takes it away.
func (l *layer) set(f *field, path string, it *item) {
	switch {
	case f.path == path:
		l.items[f.no] = it
	case it == nil:
		delete(l.seams, path)
	case l.seams == nil:
		l.seams = map[string]*item{path: it}
	default:
		l.seams[path] = it
	}
}

// spoil notes that something is wrong with a full name.
func (l *layer) spoil(path string) {
	if l.bad == nil {
		l.bad = map[string]bool{}
	}
	l.bad[path] = true
}

func (l *layer) fault(code joints.FaultCode, field, value string, at Place, rule, remedy string) {
	if means, ok := l.book.resolve(field); ok && !means.bare {
		field = means.path
		l.spoil(field)
	}
	l.faults = append(l.faults, Fault{
		Fault: joints.Fault{Code: code, Field: shorten(field), Value: shorten(value), Rule: rule, Remedy: remedy},
		Place: at,
	})
}

func (l *layer) unknown(name string, at Place) {
	rule := "is not a name that a joint file has"
	remedy := "`fay new` prints a joint file with every name"
	if l.book.kind != nil {
		rule = "is not a name that a " + l.book.kind.Name + " joint has"
		remedy = "`fay new " + l.book.kind.Name + "` prints a joint file with every name"
	}
	if number, ok := strings.CutPrefix(name, seamsGroup+"."); ok {
		if n, _, isSeam := seamOf(name); !isSeam || n == 0 {
			l.fault(joints.FaultUnknown, seamsGroup+"."+number, "", at, fmt.Sprintf("seams are counted from 1 to %d", maxSeams),
				"write seams.2.length for the length of the second one")
			return
		}
	}
	if near := l.book.near(name); near != "" && near != name {
		remedy = "did you mean " + near + "?"
		if means, ok := l.book.resolve(near); ok {
			l.spoil(means.path)
		}
	}
	l.fault(joints.FaultUnknown, name, "", at, rule, remedy)
}

// put stores a value under its name, or reports that it was given before.
// Values without their weld are told apart from others until it is settled.
func (l *layer) put(it *item) {
	if first := l.sameAs(it); first != nil {
		l.duplicate(it, first.at)
		return
	}
	l.room = append(l.room, *it)
	own := &l.room[len(l.room)-1]
	l.order = append(l.order, own)
	if !own.bare {
		l.set(own.field, own.path, own)
	}
}

// sameAs finds the item given under the name before; nil where there is none.
func (l *layer) sameAs(it *item) *item {
	if !it.bare {
		return l.item(it.path)
	}
	for _, first := range l.order {
		if first.bare && first.field == it.field {
			return first
		}
	}
	return nil
}

func (l *layer) duplicate(it *item, first Place) {
	l.fault(joints.FaultDuplicate, it.name, it.text, it.at, "is given "+wherePlace(first, it.at.File)+" already", "keep one of the two")
}

// wherePlace names the place of something in a message about the same file.
func wherePlace(first Place, file string) string {
	if first.Line > 0 && first.File == file {
		return fmt.Sprintf("in line %d", first.Line)
	}
	return "at " + first.String()
}

// settle gives every bare weld parameter to its weld, and to both where sides
// says so, and stamps the units.
func (l *layer) settle(units geometry.Unit) {
	if it := l.items[unitsNo]; it != nil {
		units = unitOf(strings.ToLower(it.text))
	}
	slots := l.slots()
	order := make([]*item, 0, len(l.order))
	for _, it := range l.order {
		it.units = units
		if !it.bare {
			order = append(order, it)
			continue
		}
		param := it.path
		for i, slot := range slots {
			f := l.book.inWeld(slot, param)
			if f == nil {
				continue // the second weld has no such parameter
			}
			if first := l.items[f.no]; first != nil {
				if i == 0 {
					l.duplicate(it, first.at)
				}
				continue // the second weld's own value stands
			}
			full := it
			if i > 0 {
				full = new(*it)
			}
			full.bare, full.path, full.field = false, f.path, f
			l.items[f.no] = full
			order = append(order, full)
		}
	}
	l.order = order
}

// slots are the welds that values without a weld belong to, by their place in
// the kind's description.
func (l *layer) slots() []int {
	kind := l.book.kind
	if kind == nil || len(kind.Welds) == 0 {
		return nil
	}
	it := l.items[sidesNo]
	if it == nil {
		return []int{0}
	}
	side := strings.ToLower(it.text)
	if side == bothSides && len(kind.Welds) > 1 {
		return []int{0, 1}
	}
	for i := range kind.Welds {
		if kind.Welds[i].ID == side {
			return []int{i}
		}
	}
	return []int{0}
}

// over lays l over a weaker layer. A value of l also takes the place of those
// that exclude it: throat=2 over a file with leg: 3 leaves the throat alone.
func (l *layer) over(weak *layer) {
	for _, it := range l.order {
		group := it.field.exclusive()
		if group == "" {
			continue
		}
		parent, _ := cutLast(it.field.path)
		own, name := cutLast(it.path)
		for other, f := range l.book.fields {
			if p, last := cutLast(other); p == parent && last != name && f.exclusive() == group {
				weak.remove(own + last)
			}
		}
	}
	l.groups = weak.groups // assignments open none
	merged := make([]*item, 0, len(weak.order)+len(l.order))
	for _, it := range weak.order {
		if l.item(it.path) != nil {
			continue
		}
		l.set(it.field, it.path, it)
		merged = append(merged, it)
	}
	l.order = append(merged, l.order...)
	for path := range weak.bad {
		l.spoil(path)
	}
	l.faults = append(weak.faults, l.faults...)
}

// exclusive is the group of fields of which one is given; empty for none.
func (f *field) exclusive() string {
	if f.param != nil {
		return f.param.Group
	}
	return f.group
}

// cutLast splits a full name before its last word.
func cutLast(path string) (parent, last string) {
	i := strings.LastIndexByte(path, '.') + 1
	return path[:i], path[i:]
}

// takeAway removes what empty assignments name from the weaker layer.
func (l *layer) takeAway(weak *layer) {
	for _, g := range l.gone {
		prefixes := []string{g.path}
		if g.bare && l.book.kind != nil {
			prefixes = make([]string, 0, len(l.book.kind.Welds))
			for _, w := range l.book.kind.Welds {
				prefixes = append(prefixes, weldsGroup+"."+w.ID+"."+g.path)
			}
		}
		if g.path == seamsGroup {
			prefixes = append(prefixes, seamGroup)
		}
		found := false
		for _, prefix := range prefixes {
			found = weak.remove(prefix) || found
		}
		if !found {
			l.fault(joints.FaultMissing, g.name, "", g.at, "has no value", "write one after the =, or leave the argument out")
		}
	}
}

// remove drops a value, or a group with everything below it.
func (l *layer) remove(prefix string) bool {
	found := false
	kept := make([]*item, 0, len(l.order))
	for _, it := range l.order {
		if it.path == prefix || strings.HasPrefix(it.path, prefix+".") {
			l.set(it.field, it.path, nil)
			found = true
			continue
		}
		kept = append(kept, it)
	}
	l.order = kept
	for path := range l.groups {
		if path == prefix || strings.HasPrefix(path, prefix+".") {
			delete(l.groups, path)
			found = true
		}
	}
	return found
}
