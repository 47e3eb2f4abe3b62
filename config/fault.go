package config

import (
	"fmt"
	"strconv"
	"strings"
)

// FaultCode names a kind of fault; tests match codes, not sentences.
type FaultCode string

// The kinds of fault.
const (
	FaultFile       FaultCode = "file"        // missing or unreadable
	FaultTooLarge   FaultCode = "too-large"   // file beyond the stated limits
	FaultSyntax     FaultCode = "syntax"      // not YAML, or more than plain keys and values
	FaultUnknownKey FaultCode = "unknown-key" // no such setting
	FaultDuplicate  FaultCode = "duplicate"   // a key or name given twice
	FaultShape      FaultCode = "shape"       // a list where a word belongs, or the like
	FaultValue      FaultCode = "value"       // a word or number that is not allowed
	FaultRange      FaultCode = "range"       // a number outside its range
	FaultName       FaultCode = "name"        // a filler, material or document not on file
	FaultMissing    FaultCode = "missing"     // a needed key or value is absent
)

// Fault is one thing wrong with the settings.
type Fault struct {
	Code   FaultCode
	Key    string // settings key such as filler.diameter; empty for a whole file
	Origin Origin // where the value stands
	Column int    // in the file, from 1; 0 where not known
	Value  string // as given
	Rule   string // what is allowed
	Remedy string // what to do about it
}

// longestShown bounds the part of a wrong value repeated in a message.
const longestShown = 60

// Error prints place, key, value, rule and remedy on one line.
func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.Origin.String())
	if f.Column > 0 {
		b.WriteString(":" + strconv.Itoa(f.Column))
	}
	b.WriteString(": ")
	if f.Key != "" {
		b.WriteString(f.Key + ": ")
	}
	if f.Value != "" {
		fmt.Fprintf(&b, "%q: ", shorten(f.Value))
	}
	b.WriteString(f.Rule)
	if f.Remedy != "" {
		b.WriteString("; " + f.Remedy)
	}
	return b.String()
}

func shorten(s string) string {
	r := []rune(s)
	if len(r) <= longestShown {
		return s
	}
	return string(r[:longestShown]) + "…"
}

// mostShown bounds the lines of a report; the count of the rest is still told.
const mostShown = 50

// Faults is everything wrong at once; it is the error Load returns.
type Faults []Fault

// Error prints one fault a line.
func (fs Faults) Error() string {
	lines := make([]string, 0, min(len(fs), mostShown)+1)
	for i, f := range fs {
		if i == mostShown {
			lines = append(lines, fmt.Sprintf("and %d more", len(fs)-i))
			break
		}
		lines = append(lines, f.Error())
	}
	return strings.Join(lines, "\n")
}

// Layer is the layer of settings a value comes from, weakest first.
type Layer uint8

// The layers.
const (
	LayerDefault Layer = iota
	LayerFile
	LayerEnvironment
	LayerOverride
)

// Origin says where a value comes from.
type Origin struct {
	Layer Layer
	Name  string // file path, environment variable, or flag; empty for a default
	Line  int    // in the file, from 1; 0 where not known
}

// String prints `default`, `path:line`, the variable's name or the flag.
func (o Origin) String() string {
	switch o.Layer {
	case LayerDefault:
		if o.Name != "" {
			return "default (" + o.Name + ")"
		}
		return "default"
	case LayerFile:
		if o.Line > 0 {
			return o.Name + ":" + strconv.Itoa(o.Line)
		}
		return o.Name
	case LayerEnvironment:
		return "environment " + o.Name
	case LayerOverride:
		if o.Name == "" {
			return "command line"
		}
		return o.Name
	}
	return o.Name
}
