package joints

import (
	"errors"
	"fmt"
	"strings"

	"fay/geometry"
)

// FaultCode says which way an input is wrong. Tests and callers match codes,
// never sentences.
type FaultCode string

// The ways an input can be wrong.
const (
	FaultMissing   FaultCode = "missing"     // a value that is needed is not given
	FaultUnknown   FaultCode = "unknown"     // a name that is not on the list
	FaultNotNumber FaultCode = "not-finite"  // NaN or infinite
	FaultRange     FaultCode = "range"       // outside the stated physical range
	FaultConflict  FaultCode = "conflict"    // two values that exclude each other
	FaultLeg       FaultCode = "leg"         // a leg the member's face or the gap does not allow
	FaultFace      FaultCode = "face"        // a weld face that leaves the joint
	FaultFusion    FaultCode = "fusion"      // fusion or penetration the members do not allow
	FaultOverlap   FaultCode = "overlap"     // welds or members that run into each other
	FaultGeometry  FaultCode = "geometry"    // an outline that cannot be closed
	FaultSyntax    FaultCode = "syntax"      // a value that cannot be read
	FaultDuplicate FaultCode = "duplicate"   // the same thing given twice
	FaultUnfit     FaultCode = "preparation" // a preparation that does not fit the plates
)

// Fault is one thing wrong with an input: the field, the value as given, the
// rule it breaks, what to do about it and, where geometry broke, the place in
// the section plane.
type Fault struct {
	Code   FaultCode
	Field  string
	Value  string
	Rule   string
	Remedy string
	At     *geometry.Point
}

func (f Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.Field)
	if f.Value != "" {
		fmt.Fprintf(&b, " = %s", f.Value)
	}
	b.WriteString(": ")
	b.WriteString(f.Rule)
	if f.Remedy != "" {
		b.WriteString("; ")
		b.WriteString(f.Remedy)
	}
	return b.String()
}

// Faults are all the things wrong with one input, in the order found.
type Faults []Fault

func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// AsFaults returns the faults carried by err, or nil.
func AsFaults(err error) Faults {
	if fs, ok := errors.AsType[Faults](err); ok {
		return fs
	}
	return nil
}

// Has reports whether one of the faults has the code and the field.
func (fs Faults) Has(code FaultCode, field string) bool {
	for _, f := range fs {
		if f.Code == code && f.Field == field {
			return true
		}
	}
	return false
}
