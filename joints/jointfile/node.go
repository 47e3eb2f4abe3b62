package jointfile

import (
	"slices"

	"github.com/goccy/go-yaml/ast"

	"fay/joints"
)

// NodeKind is the form of a [Node].
type NodeKind uint8

// The forms of nodes.
const (
	Scalar NodeKind = iota // one plain value, as text
	Empty                  // nothing behind the colon
	List
	Mapping // names and values
	Odd     // an anchor, alias or tag
)

// Node is a value of a YAML file with its place, for files that are kept as
// strictly as joint files.
type Node struct {
	Kind  NodeKind
	Text  string // of a scalar, as written; what an odd one is
	At    Place
	Items []Node
	Pairs []Pair
}

// Pair is a name with its value.
type Pair struct {
	Name  string
	At    Place // of the name
	Value Node
}

// ParseMapping parses a YAML file of names and values within the limits of
// joint files; what names the file in messages, such as "job file". Names that
// are not plain words or stand twice are faults. The error is [Faults].
func ParseMapping(name, what string, data []byte) ([]Pair, error) {
	f := parseYAML(name, what, data)
	if len(f.faults) > 0 {
		return nil, f.faults
	}
	pairs := f.pairs(f.root)
	if len(f.faults) > 0 {
		return nil, f.faults
	}
	return pairs, nil
}

func (f *yamlFile) pairs(nodes []*ast.MappingValueNode) []Pair {
	pairs := make([]Pair, 0, len(nodes))
	for _, e := range nodes {
		at := f.at(e.Key)
		key, ok := PlainText(e.Key)
		first := slices.IndexFunc(pairs, func(p Pair) bool { return p.Name == key })
		switch {
		case !ok:
			f.fault(FaultShape, "", at.Line, at.Column, "a name is one plain word here", "write `name: value`, without <<, ? or &")
		case first >= 0:
			f.faults = append(f.faults, Fault{Place: at, Fault: joints.Fault{Code: joints.FaultDuplicate, Field: shorten(key),
				Rule: "is given " + wherePlace(pairs[first].At, f.name) + " already", Remedy: "keep one of the two"}})
		default:
			pairs = append(pairs, Pair{Name: key, At: at, Value: f.node(e.Value)})
		}
	}
	return pairs
}

func (f *yamlFile) node(n ast.Node) Node {
	out := Node{At: f.at(n)}
	if isNull(n) {
		out.Kind = Empty
		return out
	}
	if text, ok := PlainText(n); ok {
		out.Text = text
		return out
	}
	if pairs, ok := pairsOf(n); ok {
		out.Kind, out.Pairs = Mapping, f.pairs(pairs)
		if len(out.Pairs) > 0 && !isFlow(n) {
			out.At = out.Pairs[0].At
		}
		return out
	}
	if seq, ok := n.(*ast.SequenceNode); ok {
		out.Kind = List
		for _, v := range seq.Values {
			out.Items = append(out.Items, f.node(v))
		}
		return out
	}
	out.Kind, out.Text = Odd, sample(n)
	return out
}

// isFlow reports whether a mapping stands in braces.
func isFlow(n ast.Node) bool {
	m, ok := n.(*ast.MappingNode)
	return ok && m.IsFlowStyle
}
