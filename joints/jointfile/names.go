package jointfile

import "fay/joints"

// Form is how the value of a name is written.
type Form uint8

// The forms of values.
const (
	TextForm Form = iota // words, dates, yes and no
	LengthForm
	AngleForm
	NumberForm // plain numbers and counts
)

// Lookup finds a name as an assignment of the kind writes it: its full name
// and the form of its value. Names that stand for a group alone are not found.
func Lookup(kind *joints.Kind, name string) (path string, form Form, ok bool) {
	b := bookOf(kind)
	n, ok := b.resolve(name)
	if !ok || n.field == nil {
		return "", 0, false
	}
	if path = n.path; n.bare || isMember(b, path) {
		path = n.field.path
	}
	switch n.field.form {
	case formLength, formLengths:
		form = LengthForm
	case formAngle, formAngles:
		form = AngleForm
	case formNumber, formCount:
		form = NumberForm
	}
	return path, form, true
}

// Near returns the name of the kind that is nearest to a wrong one, or "".
func Near(kind *joints.Kind, name string) string { return bookOf(kind).near(name) }
