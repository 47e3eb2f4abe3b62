package macro

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"fay/joints"
	"fay/joints/jointfile"
)

// Limits of a record. Lines, words and nesting are bounded besides the size
// because the YAML reader's time and stack grow with them.
const (
	MaxBytes       = 256 << 10
	maxLines       = 5000
	maxTokens      = 20_000
	maxNesting     = 16
	maxAssignments = 100
	maxArgument    = 64 << 10 // bytes: holds the points of a traced face
)

// item is one value as written.
type item struct {
	name   string
	text   string
	list   []item
	isList bool
	at     jointfile.Place
}

// sheet is everything a record says, before it is understood.
type sheet struct {
	name   string
	lines  []string
	items  map[string]item
	order  []string
	faults jointfile.Faults
}

func newSheet(name string) *sheet { return &sheet{name: name, items: map[string]item{}} }

func (s *sheet) fault(code joints.FaultCode, field, value string, at jointfile.Place, rule, remedy string) {
	s.faults = append(s.faults, jointfile.Fault{
		Fault: joints.Fault{Code: code, Field: shorten(field), Value: shorten(value), Rule: rule, Remedy: remedy}, Place: at,
	})
}

func (s *sheet) place(line, column int) jointfile.Place {
	p := jointfile.Place{File: s.name, Line: line, Column: column}
	if line > 0 && line <= len(s.lines) {
		p.Text = s.lines[line-1]
	}
	return p
}

func (s *sheet) at(n ast.Node) jointfile.Place {
	if n != nil {
		if t := n.GetToken(); t != nil && t.Position != nil {
			return s.place(t.Position.Line, t.Position.Column)
		}
	}
	return s.place(1, 1)
}

func (s *sheet) put(it item) {
	if lookup(it.name) == nil {
		remedy := "the names are " + strings.Join(Names(), ", ")
		if near := joints.Nearest(it.name, Names()); near != "" && len(it.name) <= longestShown {
			remedy = "did you mean " + near + "?"
		}
		s.fault(joints.FaultUnknown, it.name, "", it.at, "is not a name that a record has", remedy)
		return
	}
	if first, twice := s.items[it.name]; twice {
		s.fault(joints.FaultDuplicate, it.name, it.text, it.at, "is given at "+first.at.String()+" already", "keep one of the two")
		return
	}
	s.items[it.name] = it
	s.order = append(s.order, it.name)
}

const longestShown = 60

func shorten(text string) string {
	if !printable(text) {
		text = fmt.Sprintf("%q", text)
	}
	if r := []rune(text); len(r) > longestShown {
		return string(r[:longestShown]) + "…"
	}
	return text
}

// file reads a YAML file into the sheet.
func (s *sheet) file(data []byte) {
	if len(data) > MaxBytes {
		s.fault(jointfile.FaultTooLarge, "", "", s.place(0, 0), "is larger than 256 KiB, the limit for a record", "check that this is a record")
		return
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if !utf8.Valid(data) {
		s.fault(joints.FaultSyntax, "", "", s.place(1, 1), "is not UTF-8 text", "save the file as UTF-8")
		return
	}
	text := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(data))
	s.lines = strings.Split(text, "\n")
	if len(s.lines) > maxLines || !bounded(text) {
		s.fault(jointfile.FaultTooLarge, "", "", s.place(1, 1), "has too many lines, words or brackets for a record", "check that this is a record")
		return
	}
	tree, err := parse(text)
	if err != nil {
		s.syntax(err)
		return
	}
	body, ok := single(tree)
	if !ok {
		s.fault(jointfile.FaultShape, "", "", s.place(1, 1), "one record a file: a second document begins in it", "write it to a file of its own")
		return
	}
	if body == nil {
		s.fault(joints.FaultMissing, "sample", "", s.place(1, 1), "the file is empty", "write `sample: S1` and what was measured")
		return
	}
	pairs, ok := pairsOf(body)
	if !ok {
		s.fault(jointfile.FaultShape, "", "", s.at(body), "a record is names and values", "write one `name: value` a line")
		return
	}
	for _, e := range pairs {
		s.entry(e)
	}
}

// single is the one document of a file; nil where it is empty, false where
// there are several.
func single(tree *ast.File) (ast.Node, bool) {
	var body ast.Node
	for _, doc := range tree.Docs {
		if doc.Body == nil {
			continue
		}
		if body != nil {
			return nil, false
		}
		body = doc.Body
	}
	return body, true
}

func bounded(text string) bool {
	tokens := lexer.Tokenize(text)
	if len(tokens) > maxTokens {
		return false
	}
	nesting := 0
	for _, t := range tokens {
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			nesting++
		case token.MappingEndType, token.SequenceEndType:
			nesting--
		default:
		}
		if nesting > maxNesting || t.Position.Column > maxArgument {
			return false
		}
	}
	return true
}

// parse turns a panic of the YAML library into an error: a record must not
// bring the program down through a mistake that is not ours to mend.
func parse(text string) (file *ast.File, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("the YAML reader gave up: %v", r)
		}
	}()
	return parser.ParseBytes([]byte(text), 0, parser.AllowDuplicateMapKey())
}

func (s *sheet) syntax(err error) {
	rule, line, column := err.Error(), 1, 1
	if yamlErr, ok := errors.AsType[yaml.Error](err); ok {
		rule = yamlErr.GetMessage()
		if t := yamlErr.GetToken(); t != nil && t.Position != nil {
			line, column = max(t.Position.Line, 1), max(t.Position.Column, 1)
		}
	}
	s.fault(joints.FaultSyntax, "", "", s.place(line, column), "is not valid YAML: "+rule, "write one `name: value` a line")
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

func (s *sheet) entry(e *ast.MappingValueNode) {
	at := s.at(e.Key)
	name, ok := jointfile.PlainText(e.Key)
	if !ok {
		s.fault(jointfile.FaultShape, "", "", at, "a name is one plain word here", "write `name: value`")
		return
	}
	if _, null := e.Value.(*ast.NullNode); null || e.Value == nil {
		if lookup(name) == nil {
			s.put(item{name: name, at: at})
			return
		}
		s.fault(joints.FaultMissing, name, "", at, "has no value", "write one after the colon, or delete the line")
		return
	}
	it, ok := s.value(name, e.Value, 0)
	if !ok {
		s.fault(jointfile.FaultShape, name, "", s.at(e.Value), "one value or a list belongs here", "write "+name+": value")
		return
	}
	if lookup(name) == nil {
		it.at = at
	}
	s.put(it)
}

// value reads a scalar, a list of scalars, or a list of lists.
func (s *sheet) value(name string, n ast.Node, deep int) (item, bool) {
	it := item{name: name, at: s.at(n)}
	if text, ok := jointfile.PlainText(n); ok {
		it.text = text
		return it, true
	}
	seq, ok := n.(*ast.SequenceNode)
	if !ok || deep > 1 {
		return item{}, false
	}
	it.isList = true
	for _, v := range seq.Values {
		one, ok := s.value(name, v, deep+1)
		if !ok {
			return item{}, false
		}
		it.list = append(it.list, one)
	}
	return it, true
}

// assignments reads name=value arguments; first is the number of the first one
// on the command line.
func (s *sheet) assignments(args []string, first int) {
	if len(args) > maxAssignments {
		s.fault(jointfile.FaultTooLarge, "", "", jointfile.Place{Argument: first}, "more than 100 assignments", "write a record file")
		return
	}
	for i, arg := range args {
		at := jointfile.Place{Argument: first + i, Column: 1, Text: arg}
		if len(arg) > maxArgument || !utf8.ValidString(arg) {
			at.Text = ""
			s.fault(joints.FaultSyntax, "", arg, at, "is longer than 64 KiB or not UTF-8 text", "write a record file")
			continue
		}
		name, text, ok := strings.Cut(arg, "=")
		name, text = strings.TrimSpace(name), strings.TrimSpace(text)
		if !ok || name == "" {
			s.fault(joints.FaultSyntax, "", arg, at, "is not an assignment", "write name=value, such as throat=2.1; put quotes round a value with spaces")
			continue
		}
		if lookup(name) != nil {
			at.Column = 1 + utf8.RuneCountInString(arg[:strings.IndexByte(arg, '=')+1])
			if text == "" {
				s.fault(joints.FaultMissing, name, "", at, "has no value", "write one after the =, or leave the argument out")
				continue
			}
		}
		s.put(item{name: name, text: text, at: at})
	}
}
