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
	text   string
	list   []item // of a list; text is then empty
	isList bool
	at     Place
	bare   bool          // a weld's parameter without a weld
	units  geometry.Unit // of its bare numbers
}

// layer is what one source gives: the file, or the assignments.
type layer struct {
	book   *book
	items  map[string]*item
	room   []item // memory for items
	order  []string
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
	return &layer{book: b, items: make(map[string]*item, n), room: make([]item, 0, n), order: make([]string, 0, n), groups: map[string]Place{}, bad: map[string]bool{}}
}

func (l *layer) fault(code joints.FaultCode, field, value string, at Place, rule, remedy string) {
	if path, bare, ok := l.book.resolve(field); ok && !bare {
		field, l.bad[path] = path, true
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
		if path, _, ok := l.book.resolve(near); ok {
			l.bad[path] = true
		}
	}
	l.fault(joints.FaultUnknown, name, "", at, rule, remedy)
}

// put stores a value under its name, or reports that it was given before.
func (l *layer) put(it item) {
	// Bare names are told apart from full ones until the weld is settled.
	key := it.path
	if it.bare {
		key = "." + it.path
	}
	if first, twice := l.items[key]; twice {
		l.duplicate(it, first.at)
		return
	}
	l.room = append(l.room, it)
	l.items[key] = &l.room[len(l.room)-1]
	l.order = append(l.order, key)
}

func (l *layer) duplicate(it item, first Place) {
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
	if it, ok := l.items[unitsField]; ok {
		units = unitOf(strings.ToLower(it.text))
	}
	var slots []string
	if l.book.kind != nil && len(l.book.kind.Welds) > 0 {
		slots = []string{l.book.kind.Welds[0].ID}
	}
	if it, ok := l.items[sidesField]; ok && slots != nil {
		switch side := strings.ToLower(it.text); {
		case side == bothSides && len(l.book.kind.Welds) > 1:
			slots = append(slots, l.book.kind.Welds[1].ID)
		default:
			if w, ok := l.book.kind.Slot(side); ok {
				slots[0] = w.ID
			}
		}
	}
	order := make([]string, 0, len(l.order))
	for _, key := range l.order {
		it := l.items[key]
		it.units = units
		if !it.bare {
			order = append(order, key)
			continue
		}
		delete(l.items, key)
		for i, slot := range slots {
			full := *it
			full.bare = false
			full.path = weldsGroup + "." + slot + "." + it.path
			if first, twice := l.items[full.path]; twice {
				if i == 0 {
					l.duplicate(*it, first.at)
				}
				continue // the second weld's own value stands
			}
			if l.book.fields[full.path] == nil {
				continue // the second weld has no such parameter
			}
			l.items[full.path] = &full
			order = append(order, full.path)
		}
	}
	l.order = order
}

// over lays l over a weaker layer. A value of l also takes the place of those
// that exclude it: throat=2 over a file with leg: 3 leaves the throat alone.
func (l *layer) over(weak *layer) {
	for _, path := range l.order {
		group := l.book.field(path).exclusive()
		if group == "" {
			continue
		}
		parent, _ := cutLast(template(path))
		own, name := cutLast(path)
		for other, f := range l.book.fields {
			if p, last := cutLast(other); p == parent && last != name && f.exclusive() == group {
				weak.remove(own + last)
			}
		}
	}
	for path, at := range weak.groups {
		if _, ok := l.groups[path]; !ok {
			l.groups[path] = at
		}
	}
	merged := make([]string, 0, len(weak.order)+len(l.order))
	for _, path := range weak.order {
		if _, stronger := l.items[path]; stronger {
			continue
		}
		l.items[path] = weak.items[path]
		merged = append(merged, path)
	}
	l.order = append(merged, l.order...)
	for path := range weak.bad {
		l.bad[path] = true
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
	kept := make([]string, 0, len(l.order))
	for _, path := range l.order {
		if path == prefix || strings.HasPrefix(path, prefix+".") {
			delete(l.items, path)
			found = true
			continue
		}
		kept = append(kept, path)
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
