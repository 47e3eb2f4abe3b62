package jointfile

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"fay/joints"
)

// Limits of a joint file. Lines, tokens and nesting are bounded besides the
// size because the YAML reader's time grows with the square of the lines of a
// block of text, and its stack with nesting.
const (
	MaxBytes   = 1 << 20 // 1 MiB
	maxLines   = 5000
	maxTokens  = 20_000
	maxNesting = 32
	maxColumn  = 2000 // where a key or list mark may stand
)

// yamlFile is a joint file, parsed but not yet read.
type yamlFile struct {
	name   string
	what   string // the file is: a joint file
	lines  []string
	root   []*ast.MappingValueNode
	faults Faults
}

// parseYAML checks the limits and the syntax of a file.
func parseYAML(name, what string, data []byte) *yamlFile {
	f := &yamlFile{name: name, what: what}
	if len(data) > MaxBytes {
		f.fault(FaultTooLarge, "", 0, 0, "is larger than 1 MiB, the limit for a "+what, "check that this is a "+what)
		return f
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !utf8.Valid(data) {
		line := 1 + bytes.Count(data[:invalidAt(data)], []byte("\n"))
		f.fault(joints.FaultSyntax, "", line, 1, "is not UTF-8 text", "save the file as UTF-8")
		return f
	}
	// A carriage return alone ends a line too, by the YAML specification.
	text := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(data))
	f.lines = strings.Split(text, "\n")
	if len(f.lines) > maxLines {
		f.fault(FaultTooLarge, "", maxLines+1, 1, fmt.Sprintf("has more than %d lines, the limit for a %s", maxLines, what),
			"check that this is a "+what)
		return f
	}
	if !f.bounded(text) {
		return f
	}
	file, err := parse(text)
	if err != nil {
		f.syntax(err)
		return f
	}
	f.document(file)
	return f
}

func invalidAt(data []byte) int {
	i := 0
	for i < len(data) {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n <= 1 {
			break
		}
		i += n
	}
	return i
}

// parse turns a panic of the YAML library into an error: a joint file must not
// bring the program down through a mistake that is not ours to mend.
func parse(text string) (file *ast.File, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the YAML reader gave up: %v", r)
		}
	}()
	return parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey())
}

func (f *yamlFile) fault(code joints.FaultCode, field string, line, column int, rule, remedy string) {
	f.faults = append(f.faults, Fault{
		Fault: joints.Fault{Code: code, Field: field, Rule: rule, Remedy: remedy},
		Place: f.place(line, column),
	})
}

func (f *yamlFile) place(line, column int) Place {
	p := Place{File: f.name, Line: line, Column: column}
	if line > 0 && line <= len(f.lines) {
		p.Text = f.lines[line-1]
	}
	return p
}

func (f *yamlFile) at(n ast.Node) Place {
	if n != nil {
		if t := n.GetToken(); t != nil && t.Position != nil {
			return f.place(t.Position.Line, t.Position.Column)
		}
	}
	return f.place(1, 1)
}

// bounded refuses what would be slow or senseless to parse.
func (f *yamlFile) bounded(text string) bool {
	tokens := lexer.Tokenize(text)
	if len(tokens) > maxTokens {
		f.fault(FaultTooLarge, "", 1, 1, fmt.Sprintf("has more than %d words and marks, the limit for a %s", maxTokens, f.what),
			"check that this is a "+f.what)
		return false
	}
	depth := 0
	for _, t := range tokens {
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			depth++
		case token.MappingEndType, token.SequenceEndType:
			depth--
		default:
		}
		if depth > maxNesting || t.Position.Column > maxColumn {
			f.fault(FaultTooLarge, "", t.Position.Line, t.Position.Column,
				fmt.Sprintf("is nested deeper than %d brackets or wider than %d columns, the limits for a %s", maxNesting, maxColumn, f.what),
				"check that this is a "+f.what)
			return false
		}
	}
	return true
}

func (f *yamlFile) syntax(err error) {
	rule, line, column := err.Error(), 1, 1
	if yamlErr, ok := errors.AsType[yaml.Error](err); ok {
		rule = yamlErr.GetMessage()
		if t := yamlErr.GetToken(); t != nil && t.Position != nil {
			line, column = max(t.Position.Line, 1), max(t.Position.Column, 1)
		}
	}
	f.fault(joints.FaultSyntax, "", line, column, "is not valid YAML: "+rule,
		"write one `name: value` a line; `fay new` prints a file to compare with")
}

// document takes the one mapping that a joint file is.
func (f *yamlFile) document(file *ast.File) {
	var body ast.Node
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if body != nil {
			at := f.at(doc.Body)
			f.fault(FaultShape, "", at.Line, at.Column, "one "+f.what+" a file: a second document begins here",
				"write the second one to a file of its own")
			return
		}
		body = doc.Body
	}
	if body == nil {
		field, _, _ := strings.Cut(f.what, " ")
		f.fault(joints.FaultMissing, field, 1, 1, "the file is empty", "`fay new tee` prints a joint file to start from, `fay schema` tells what a file may hold")
		return
	}
	pairs, ok := pairsOf(body)
	if !ok {
		at := f.at(body)
		f.fault(FaultShape, "", at.Line, at.Column, "a "+f.what+" is names and values", "write one `name: value` a line")
		return
	}
	f.root = pairs
}

func pairsOf(n ast.Node) ([]*ast.MappingValueNode, bool) {
	switch n := n.(type) {
	case *ast.MappingNode:
		return n.Values, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{n}, true
	}
	return nil, false
}

// find returns a scalar at the top of the file, before names are judged.
func (f *yamlFile) find(name string) (string, Place, bool) {
	for _, e := range f.root {
		if key, ok := PlainText(e.Key); ok && key == name {
			if text, ok := PlainText(e.Value); ok {
				return text, f.at(e.Value), true
			}
		}
	}
	return "", Place{}, false
}

// read takes the values out of the file under the names of a kind.
func (f *yamlFile) read(b *book) *layer {
	l := newLayer(b, 2*len(f.root))
	l.groups = map[string]Place{}
	l.faults = append(l.faults, f.faults...)
	f.mapping(l, "", f.root)
	return l
}

func (f *yamlFile) mapping(l *layer, prefix string, pairs []*ast.MappingValueNode) {
	seen := map[string]Place{}
	for _, e := range pairs {
		at := f.at(e.Key)
		key, ok := PlainText(e.Key)
		if !ok {
			l.fault(FaultShape, prefix, "", at, "a name is one plain word here", "write `name: value`, without <<, ? or &")
			continue
		}
		name := key
		if prefix != "" {
			name = prefix + "." + key
		}
		if first, twice := seen[key]; twice {
			l.duplicate(&item{name: name, at: at}, first)
			continue
		}
		seen[key] = at
		f.entry(l, name, e, at)
	}
}

func (f *yamlFile) entry(l *layer, name string, e *ast.MappingValueNode, at Place) {
	means, ok := l.book.resolve(name)
	if !ok {
		if _, word := e.Key.(*ast.StringNode); !word && isNull(e.Value) {
			l.fault(joints.FaultUnknown, name, "", at, "a comma splits values inside { }", "write a list such as leg: [3, 4]")
			return
		}
		l.unknown(name, at)
		return
	}
	if isNull(e.Value) {
		l.fault(joints.FaultMissing, name, "", at, "has no value", "write one after the colon, or delete the line")
		return
	}
	path := means.path
	if path == seamsGroup {
		f.seams(l, name, e.Value, at)
		return
	}
	pairs, isMap := pairsOf(e.Value)
	if l.book.group(path) && (isMap || !isMember(l.book, path)) {
		if !isMap {
			l.fault(FaultShape, name, sample(e.Value), f.at(e.Value), "needs names and values of its own",
				"indent them below it, such as "+l.book.below(path)+": …")
			return
		}
		f.group(l, name, path, at, pairs)
		return
	}
	it := item{name: name, path: path, field: means.field, bare: means.bare, at: f.at(e.Value)}
	if isMember(l.book, path) {
		it.path = it.field.path
	}
	if f.value(l, &it, e.Value) {
		l.put(&it)
	}
}

// group reads the names and values below a name.
func (f *yamlFile) group(l *layer, name, path string, at Place, pairs []*ast.MappingValueNode) {
	if _, twice := l.groups[path]; twice {
		l.duplicate(&item{name: name, at: at}, l.groups[path])
		return
	}
	l.groups[path] = at
	f.mapping(l, name, pairs)
}

// seams reads a list of seams.
func (f *yamlFile) seams(l *layer, name string, n ast.Node, at Place) {
	const remedy = "write seams: [{length: 180}, {length: 90}], or seam: {length: 180} for one"
	l.groups[seamsGroup] = at
	seq, ok := n.(*ast.SequenceNode)
	switch {
	case !ok:
		l.fault(FaultShape, name, sample(n), f.at(n), "is a list of seams", remedy)
		return
	case len(seq.Values) == 0:
		l.fault(joints.FaultMissing, name, "", at, "lists no seam", remedy)
		return
	case len(seq.Values) > maxSeams:
		l.fault(FaultTooLarge, name, "", at, fmt.Sprintf("lists more than %d seams", maxSeams), "give seams alike once, with count")
		return
	}
	for i, v := range seq.Values {
		path := seamPath(i + 1)
		pairs, ok := pairsOf(v)
		if !ok {
			l.fault(FaultShape, path, sample(v), f.at(v), "needs names and values of its own", remedy)
			continue
		}
		place := f.at(v)
		if len(pairs) > 0 && !isFlow(v) {
			place = f.at(pairs[0].Key)
		}
		f.group(l, seamsGroup+"."+strconv.Itoa(i+1), path, place, pairs)
	}
}

// value reads a scalar or a list of scalars.
func (f *yamlFile) value(l *layer, it *item, n ast.Node) bool {
	if text, ok := PlainText(n); ok {
		it.text = text
		return true
	}
	seq, ok := n.(*ast.SequenceNode)
	if !ok {
		remedy := "write " + it.name + ": value"
		switch n.(type) {
		case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode:
			remedy = "write the value itself: anchors, aliases and tags are not taken"
		}
		l.fault(FaultShape, it.name, sample(n), f.at(n), "one plain value belongs here", remedy)
		return false
	}
	it.isList = true
	good := true
	for _, v := range seq.Values {
		text, ok := PlainText(v)
		if !ok {
			l.fault(FaultShape, it.name, sample(v), f.at(v), "a list holds plain values here", "write "+it.name+": [one, two]")
			good = false
			continue
		}
		it.list = append(it.list, item{name: it.name, path: it.path, field: it.field, text: text, at: f.at(v)})
	}
	return good
}

func isNull(n ast.Node) bool {
	if n == nil {
		return true
	}
	_, null := n.(*ast.NullNode)
	return null
}

// PlainText returns a plain value as it was written, without quotes, so that
// 010, 1e3 and yes mean what the reader says and not what YAML does.
func PlainText(n ast.Node) (string, bool) {
	switch n := n.(type) {
	case *ast.StringNode:
		return n.Value, true
	case *ast.LiteralNode:
		if n.Value == nil {
			return "", true
		}
		return strings.TrimRight(n.Value.Value, "\n"), true
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		if t := n.GetToken(); t != nil {
			return t.Value, true
		}
	}
	return "", false
}

// sample names a misplaced node for a message.
func sample(n ast.Node) string {
	if text, ok := PlainText(n); ok {
		return text
	}
	switch n.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		return "a group"
	case *ast.SequenceNode:
		return "a list"
	case *ast.AnchorNode:
		return "an anchor"
	case *ast.AliasNode:
		return "an alias"
	case *ast.TagNode:
		return "a tag"
	}
	return ""
}
