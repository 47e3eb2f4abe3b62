package config

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Limits of a settings file. The last two exist because the YAML parser's time
// grows with the square of nesting and of the number of keys in one mapping.
const (
	MaxFileBytes = 1 << 20 // 1 MiB
	maxTokens    = 20_000
	maxNesting   = 32
)

// place is where a value stands.
type place struct {
	origin Origin
	column int
}

// layerValues is what one layer gives: values as nested maps, lists and
// strings, ready to merge, and the place of each by path
// (filler.type, checks[1], fillers[0].density).
type layerValues struct {
	values map[string]any
	places map[string]place
}

func newLayer() layerValues {
	return layerValues{values: map[string]any{}, places: map[string]place{}}
}

// put stores a value under a dotted key.
func (l layerValues) put(name string, v any, at place) {
	l.places[name] = at
	section, rest, nested := strings.Cut(name, ".")
	if !nested {
		l.values[name] = v
		return
	}
	inner, ok := l.values[section].(map[string]any)
	if !ok {
		inner = map[string]any{}
		l.values[section] = inner
	}
	inner[rest] = v
}

// readFile reads a settings file. A missing file gives no data and no fault
// unless it is required.
func readFile(path string, required bool) ([]byte, *Fault) {
	origin := Origin{Layer: LayerFile, Name: path}
	file, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) && !required {
		return nil, nil
	}
	if err != nil {
		return nil, unreadable(origin, err)
	}
	defer func() { _ = file.Close() }() // read only: nothing can be lost
	if info, err := file.Stat(); err == nil && !info.Mode().IsRegular() {
		return nil, &Fault{
			Code: FaultFile, Origin: origin, Rule: "settings are read from a plain file",
			Remedy: "name a YAML file",
		}
	}
	data, err := io.ReadAll(io.LimitReader(file, MaxFileBytes+1))
	if err != nil {
		return nil, unreadable(origin, err)
	}
	return data, nil
}

func unreadable(origin Origin, err error) *Fault {
	cause := err
	if pathErr, ok := errors.AsType[*fs.PathError](err); ok {
		cause = pathErr.Err
	}
	return &Fault{
		Code: FaultFile, Origin: origin, Rule: "cannot be read: " + cause.Error(),
		Remedy: "check the path and its permissions",
	}
}

// fileParser turns a settings file into a layer and collects its faults.
type fileParser struct {
	path   string
	layer  layerValues
	faults Faults
}

// parseSettings reads a settings file's text.
func parseSettings(path string, data []byte) (layerValues, Faults) {
	p := &fileParser{path: path, layer: newLayer()}
	if f := p.oversize(data); f != nil {
		return p.layer, Faults{*f}
	}
	file, err := parser.ParseBytes(data, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		p.syntax(err)
		return p.layer, p.faults
	}
	var body ast.Node
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if body != nil {
			p.add(FaultSyntax, "", doc.Body, "", "one YAML document a file", "delete everything from the second `---` on")
			break
		}
		body = doc.Body
	}
	if body != nil {
		p.mapping("", body)
	}
	return p.layer, p.faults
}

// oversize refuses what would be slow or senseless to parse.
func (p *fileParser) oversize(data []byte) *Fault {
	tooLarge := func(line int, rule string) *Fault {
		return &Fault{
			Code: FaultTooLarge, Origin: Origin{Layer: LayerFile, Name: p.path, Line: line},
			Rule: rule, Remedy: "check that this is a settings file",
		}
	}
	if len(data) > MaxFileBytes {
		return tooLarge(0, "larger than 1 MiB, the limit for a settings file")
	}
	depth := 0
	tokens := lexer.Tokenize(string(data))
	if len(tokens) > maxTokens {
		return tooLarge(0, fmt.Sprintf("more than %d words and marks, the limit for a settings file", maxTokens))
	}
	for _, t := range tokens {
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			depth++
		case token.MappingEndType, token.SequenceEndType:
			depth--
		default:
		}
		if depth > maxNesting {
			return tooLarge(t.Position.Line, fmt.Sprintf("brackets nested deeper than %d, the limit for a settings file", maxNesting))
		}
	}
	return nil
}

func (p *fileParser) syntax(err error) {
	f := Fault{
		Code: FaultSyntax, Origin: Origin{Layer: LayerFile, Name: p.path},
		Rule: "not valid YAML: " + err.Error(), Remedy: "compare with a fresh starter file",
	}
	if yamlErr, ok := errors.AsType[yaml.Error](err); ok {
		f.Rule = "not valid YAML: " + yamlErr.GetMessage()
		if t := yamlErr.GetToken(); t != nil && t.Position != nil {
			f.Origin.Line, f.Column = t.Position.Line, t.Position.Column
		}
	}
	p.faults = append(p.faults, f)
}

func (p *fileParser) at(n ast.Node) place {
	at := place{origin: Origin{Layer: LayerFile, Name: p.path}}
	if n == nil {
		return at
	}
	if t := n.GetToken(); t != nil && t.Position != nil {
		at.origin.Line, at.column = t.Position.Line, t.Position.Column
	}
	return at
}

func (p *fileParser) add(code FaultCode, path string, n ast.Node, value, rule, remedy string) {
	at := p.at(n)
	p.faults = append(p.faults, Fault{
		Code: code, Key: path, Origin: at.origin, Column: at.column,
		Value: value, Rule: rule, Remedy: remedy,
	})
}

// pairs returns the entries of a mapping node; false for any other node.
func pairs(n ast.Node) ([]*ast.MappingValueNode, bool) {
	switch n := n.(type) {
	case *ast.MappingNode:
		return n.Values, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{n}, true
	default:
		return nil, false
	}
}

// mapping reads the whole file (section "") or one section such as filler.
func (p *fileParser) mapping(section string, n ast.Node) {
	entries, ok := pairs(n)
	if !ok {
		rule, remedy := "keys and values belong here", "write one `key: value` a line"
		p.add(FaultShape, section, n, sample(n), rule, remedy)
		return
	}
	seen := map[string]bool{}
	for _, e := range entries {
		word := scalarOf(e.Key)
		name := word
		if section != "" {
			name = section + "." + word
		}
		if seen[name] {
			p.add(FaultDuplicate, name, e.Key, "", "a key may stand once", "keep one of the two")
			continue
		}
		seen[name] = true
		k, known := findKey(name)
		switch {
		case known && (section != "" || !strings.Contains(word, ".")):
			p.value(k, e.Value)
		case section == "" && isSection(name):
			if !isNull(e.Value) {
				p.mapping(name, e.Value)
			}
		default:
			p.unknown(name, e.Key)
		}
	}
}

func (p *fileParser) unknown(name string, n ast.Node) {
	remedy := "delete the line; `fay settings` lists every key"
	section, rest, dotted := strings.Cut(name, ".")
	near, ok := Nearest(name, keyNames())
	_, exact := findKey(name)
	switch owner := sectionOf(name); {
	case exact && dotted:
		remedy = fmt.Sprintf("write %q indented under %q", rest, section)
	case owner != "":
		remedy = fmt.Sprintf("write it indented under %q", owner)
	case ok:
		remedy = fmt.Sprintf("did you mean %q?", near)
	}
	p.add(FaultUnknownKey, name, n, "", "no such setting", remedy)
}

// value reads the value of a known key in its shape.
func (p *fileParser) value(k key, n ast.Node) {
	switch k.shape {
	case scalar:
		if text, ok := p.text(k.name, n); ok {
			p.layer.put(k.name, text, p.at(n))
		}
	case words:
		if list, ok := p.list(k.name, n); ok {
			p.layer.put(k.name, list, p.at(n))
		}
	case records:
		p.records(k.name, n)
	}
}

// text reads one scalar as it was written.
func (p *fileParser) text(path string, n ast.Node) (string, bool) {
	if isNull(n) {
		p.add(FaultMissing, path, n, "", "a value is missing", "write one after the colon, or delete the line for the default")
		return "", false
	}
	if !isScalar(n) {
		p.add(FaultShape, path, n, sample(n), "one plain value belongs here", "write "+path+": value")
		return "", false
	}
	return scalarOf(n), true
}

// list reads a list of scalars; a single scalar is a list of one.
func (p *fileParser) list(path string, n ast.Node) ([]any, bool) {
	if isNull(n) {
		return []any{}, true
	}
	if isScalar(n) {
		return []any{scalarOf(n)}, true
	}
	seq, ok := n.(*ast.SequenceNode)
	if !ok {
		p.add(FaultShape, path, n, sample(n), "a list belongs here", "write "+path+": [one, two]")
		return nil, false
	}
	list := make([]any, 0, len(seq.Values))
	for _, item := range seq.Values {
		at := fmt.Sprintf("%s[%d]", path, len(list))
		if text, ok := p.text(at, item); ok {
			p.layer.places[at] = p.at(item)
			list = append(list, text)
		}
	}
	return list, true
}

// records reads a list of small mappings: own fillers or materials.
func (p *fileParser) records(name string, n ast.Node) {
	if isNull(n) {
		return
	}
	seq, ok := n.(*ast.SequenceNode)
	if !ok {
		p.add(FaultShape, name, n, sample(n), "a list of entries belongs here", "start each entry with `- name:`")
		return
	}
	list := make([]any, 0, len(seq.Values))
	for _, item := range seq.Values {
		at := fmt.Sprintf("%s[%d]", name, len(list))
		if rec, ok := p.record(name, at, item); ok {
			list = append(list, rec)
		}
	}
	p.layer.put(name, list, p.at(n))
}

func (p *fileParser) record(name, at string, n ast.Node) (map[string]any, bool) {
	entries, ok := pairs(n)
	if !ok {
		p.add(FaultShape, at, n, sample(n), "an entry is keys and values", "start each entry with `- name:`")
		return nil, false
	}
	p.layer.places[at] = p.at(n)
	rec := map[string]any{}
	for _, e := range entries {
		field := scalarOf(e.Key)
		path := at + "." + field
		if _, twice := p.layer.places[path]; twice {
			p.add(FaultDuplicate, path, e.Key, "", "a key may stand once", "keep one of the two")
			continue
		}
		p.layer.places[path] = p.at(e.Value)
		switch {
		case !slices.Contains(recordFields[name], field):
			remedy := "known here: " + strings.Join(recordFields[name], ", ")
			if near, ok := Nearest(field, recordFields[name]); ok {
				remedy = fmt.Sprintf("did you mean %q?", near)
			}
			p.add(FaultUnknownKey, path, e.Key, "", "no such key in an entry", remedy)
		case field == "aliases":
			if list, ok := p.list(path, e.Value); ok {
				rec[field] = list
			}
		default:
			if text, ok := p.text(path, e.Value); ok {
				rec[field] = text
			}
		}
	}
	return rec, true
}

func isNull(n ast.Node) bool {
	if n == nil {
		return true
	}
	_, null := n.(*ast.NullNode)
	return null
}

// isScalar reports whether n is a plain value. Anchors, aliases, tags and
// merges are not: settings need none, and they hide where a value stands.
func isScalar(n ast.Node) bool {
	switch n.(type) {
	case *ast.StringNode, *ast.LiteralNode, *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode,
		*ast.InfinityNode, *ast.NanNode:
		return true
	default:
		return false
	}
}

// scalarOf returns a scalar's text as written, without quotes.
func scalarOf(n ast.Node) string {
	switch n := n.(type) {
	case nil:
		return ""
	case *ast.StringNode:
		return n.Value
	case *ast.LiteralNode:
		if n.Value != nil {
			return n.Value.Value
		}
		return ""
	default:
		if t := n.GetToken(); t != nil {
			return t.Value
		}
		return ""
	}
}

// sample names a misplaced node for a message.
func sample(n ast.Node) string {
	if isScalar(n) {
		return scalarOf(n)
	}
	if n == nil {
		return ""
	}
	return "a " + strings.ToLower(n.Type().String())
}
