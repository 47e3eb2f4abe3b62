package jointfile

import (
	"strings"
	"unicode/utf8"

	"fay/joints"
)

const (
	maxAssignments = 500
	maxArgument    = 4096 // bytes
)

// assignments reads name=value arguments; first is the number of the first one
// on the command line.
func assignments(b *book, args []string, first int) *layer {
	l := newLayer(b, min(len(args), maxAssignments))
	if len(args) > maxAssignments {
		l.fault(FaultTooLarge, "", "", Place{Argument: first}, "more than 500 assignments", "write a joint file")
		return l
	}
	for i, arg := range args {
		l.assignment(arg, first+i)
	}
	return l
}

func (l *layer) assignment(arg string, number int) {
	at := Place{Argument: number, Column: 1, Text: arg}
	if len(arg) > maxArgument || !utf8.ValidString(arg) {
		l.fault(joints.FaultSyntax, "", arg, Place{Argument: number}, "is longer than 4096 bytes or not UTF-8 text", "write a joint file")
		return
	}
	name, text, ok := strings.Cut(arg, "=")
	name = strings.TrimSpace(name)
	if !ok || name == "" {
		l.fault(joints.FaultSyntax, "", arg, at, "is not an assignment", "write name=value, such as leg=3; put quotes round a value with spaces")
		return
	}
	means, ok := l.book.resolve(name)
	if !ok {
		l.unknown(name, at)
		return
	}
	it := item{name: name, path: means.path, field: means.field, bare: means.bare, at: at, text: strings.TrimSpace(text)}
	if it.text == "" {
		l.gone = append(l.gone, it)
		return
	}
	it.at.Column = 1 + utf8.RuneCountInString(arg[:strings.IndexByte(arg, '=')+1])
	if it.field == nil {
		l.fault(FaultShape, name, it.text, at, "has names of its own", "give them one by one, such as "+name+"."+l.book.below(it.path)+"=…")
		return
	}
	if isMember(l.book, it.path) {
		it.path = it.field.path
	}
	if inner, ok := strings.CutPrefix(it.text, "["); ok {
		if inner, ok = strings.CutSuffix(inner, "]"); ok {
			it.splitList(inner)
		}
	} else if no := it.field.no; no == checksNo || no == seamWeldsNo {
		it.splitList(it.text)
	}
	l.put(&it)
}

// splitList makes the item a list of what stands between commas.
func (it *item) splitList(text string) {
	it.isList = true
	for part := range strings.SplitSeq(text, ",") {
		it.list = append(it.list, item{name: it.name, path: it.path, field: it.field, text: strings.TrimSpace(part), at: it.at})
	}
	it.text = ""
}
