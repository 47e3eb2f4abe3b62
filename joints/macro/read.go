package macro

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"fay/geometry"
	"fay/joints"
	"fay/joints/jointfile"
)

// Ways a record can be wrong besides those of packages joints and jointfile.
const (
	FaultOrder  joints.FaultCode = "order"   // points in the wrong order
	FaultTooFew joints.FaultCode = "too-few" // points that are not enough
)

// Source is a record to read.
type Source struct {
	// Name of the file for messages; empty, and Data with it, where
	// assignments alone make the record.
	Name string
	Data []byte
	// Assignments are name=value arguments laid over the file, First the number of
	// the first of them on the command line.
	Assignments []string
	First       int
	// Units of bare numbers where the record does not say.
	Units geometry.Unit
	// Section is the joint that was cut. Without it nothing is held against
	// the joint and points are not evaluated.
	Section *joints.Section
	// Levels are the quality levels there are; nil takes any.
	Levels []string
}

// IsRecord tells a record file from a joint file: it has a sample.
func IsRecord(data []byte) bool {
	s := newSheet("")
	s.file(data)
	_, ok := s.items["sample"]
	return ok
}

// JointOf returns the joint file that a record names; empty where it names none.
func JointOf(data []byte) string {
	s := newSheet("")
	s.file(data)
	return strings.TrimSpace(s.items["joint"].text)
}

// Read reads a record and holds it against its joint. The error is
// [jointfile.Faults], everything wrong at once.
func Read(src Source) (Record, error) {
	file := newSheet(src.Name)
	if src.Data != nil || src.Name != "" {
		file.file(src.Data)
	}
	top := newSheet("")
	top.assignments(src.Assignments, max(src.First, 1))
	r := &reader{src: src, sheet: file, bad: map[string]bool{}, units: src.Units}
	unreadable := len(file.faults) > 0 && len(file.items) == 0
	for _, name := range top.order {
		if _, ok := file.items[name]; !ok {
			file.order = append(file.order, name)
		}
		file.items[name] = top.items[name]
	}
	file.faults = append(file.faults, top.faults...)
	rec := Record{Reading: DefaultReading, places: map[string]jointfile.Place{}}
	for name, it := range file.items {
		rec.places[name] = it.at
	}
	rec.places[""] = r.start()
	if !unreadable {
		r.record(&rec)
	}
	if len(file.faults) > 0 {
		faults := file.faults
		slices.SortStableFunc(faults, func(a, b jointfile.Fault) int {
			return cmp.Or(cmp.Compare(a.Place.Argument, b.Place.Argument), cmp.Compare(a.Place.Line, b.Place.Line), cmp.Compare(a.Place.Column, b.Place.Column))
		})
		return Record{}, faults
	}
	return rec, nil
}

// reader understands the items of a sheet.
type reader struct {
	src   Source
	sheet *sheet
	units geometry.Unit
	bad   map[string]bool
}

// start is the place of things that are missing.
func (r *reader) start() jointfile.Place {
	if r.src.Name != "" || r.src.Data != nil {
		return r.sheet.place(1, 1)
	}
	return jointfile.Place{Argument: max(r.src.First, 1)}
}

func (r *reader) refuse(it item, code joints.FaultCode, rule, remedy string) {
	r.bad[it.name] = true
	r.sheet.fault(code, it.name, it.text, it.at, rule, remedy)
}

// clash reports a fault of a field that may not be there.
func (r *reader) clash(name string, code joints.FaultCode, rule, remedy string) {
	it, ok := r.sheet.items[name]
	if !ok {
		it = item{name: name, at: r.start()}
	}
	r.refuse(it, code, rule, remedy)
}

func (r *reader) record(rec *Record) {
	if it, ok := r.scalar("units"); ok {
		switch strings.ToLower(it.text) {
		case "mm":
			r.units = geometry.UnitMM
		case "in":
			r.units = geometry.UnitInch
		default:
			r.refuse(it, joints.FaultUnknown, "must be mm or in", "write units: mm")
		}
	}
	rec.Units = r.units
	rec.Joint, rec.Sample, rec.Inspector = r.text("joint"), r.text("sample"), r.text("inspector")
	rec.Weld, rec.Etchant, rec.Photo, rec.Note = r.text("weld"), r.text("etchant"), r.text("photo"), r.text("note")
	rec.Date, rec.Position, rec.Level = r.date("date"), r.length("position"), r.level()
	if v := r.length("reading"); v.Present {
		rec.Reading = v.Value
	}
	if rec.Sample == "" && !r.bad["sample"] {
		r.clash("sample", joints.FaultMissing, "a record says which sample was cut", "write sample: S1")
	}
	for i := range fields {
		switch f := &fields[i]; {
		case f.one != nil:
			*f.one(&rec.Sizes) = r.length(f.name)
		case f.pair != nil:
			*f.pair(&rec.Sizes) = r.pair(f)
		}
	}
	rec.Points = r.points()
	r.contradictions(rec)
	r.something(rec)
	if r.src.Section != nil {
		r.against(rec)
	}
}

// scalar returns a field that holds one value.
func (r *reader) scalar(name string) (item, bool) {
	it, ok := r.sheet.items[name]
	if ok && it.isList {
		it.text = "a list"
		r.refuse(it, jointfile.FaultShape, "is one value, not a list", "write "+name+": value")
		return item{}, false
	}
	it.text = strings.TrimSpace(it.text)
	return it, ok
}

const maxText = 120 // characters

func printable(text string) bool {
	return utf8.ValidString(text) && strings.IndexFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) < 0
}

func (r *reader) text(name string) string {
	it, ok := r.scalar(name)
	switch {
	case !ok:
		return ""
	case !printable(it.text):
		r.refuse(it, joints.FaultSyntax, "must be one line of printable text", "remove line breaks and control characters")
		return ""
	case utf8.RuneCountInString(it.text) > maxText:
		r.refuse(it, joints.FaultRange, fmt.Sprintf("is longer than %d characters", maxText), "shorten it")
		return ""
	case it.text == "":
		r.refuse(it, joints.FaultMissing, "has no value", "write one, or leave the name out")
	}
	return it.text
}

// ParseDate reads YYYY-MM-DD, the form that sorts and that nobody misreads.
func ParseDate(text string) (string, bool) {
	_, err := time.Parse(time.DateOnly, text)
	return text, err == nil
}

func (r *reader) date(name string) string {
	it, ok := r.scalar(name)
	if !ok {
		return ""
	}
	date, ok := ParseDate(it.text)
	if !ok {
		r.refuse(it, joints.FaultSyntax, "is not a day of the calendar written year-month-day", "write a date such as 2026-03-02")
		return ""
	}
	return date
}

func (r *reader) level() string {
	it, ok := r.scalar("level")
	if !ok {
		return ""
	}
	level := strings.ToUpper(it.text)
	if !printable(level) || level == "" || r.src.Levels != nil && !slices.Contains(r.src.Levels, level) {
		r.refuse(it, joints.FaultUnknown, "is not a quality level on file", "use one of "+strings.Join(r.src.Levels, ", "))
		return ""
	}
	return level
}

func (r *reader) length(name string) joints.Opt {
	it, ok := r.scalar(name)
	if !ok {
		return joints.Opt{}
	}
	return r.lengthOf(it, lookup(name).limits)
}

func (r *reader) lengthOf(it item, limits joints.Range) joints.Opt {
	v, ok := r.parse(it, r.units)
	if !ok {
		return joints.Opt{}
	}
	// The slack lets a limit be stated in inches and still be met.
	slack := 1e-9 * math.Max(math.Abs(limits.Min), math.Abs(limits.Max))
	if mm := v.Millimetres(); mm < limits.Min-slack || mm > limits.Max+slack {
		r.refuse(it, joints.FaultRange, fmt.Sprintf("must lie between %g mm and %g mm", limits.Min, limits.Max),
			"check the unit: a bare number is in "+r.units.String())
		return joints.Opt{}
	}
	return joints.Some(v)
}

func (r *reader) parse(it item, bare geometry.Unit) (geometry.Length, bool) {
	v, err := geometry.ParseLength(it.text, geometry.LengthSyntax{Bare: bare})
	if err == nil {
		return v, true
	}
	code, rule, remedy := joints.FaultSyntax, err.Error(), "write a number such as 2.4"
	if pe, ok := errors.AsType[*geometry.ParseError](err); ok {
		rule, remedy = pe.Rule, pe.Remedy
		if pe.Code == geometry.ParseRange {
			code = joints.FaultRange
		}
	}
	if word := strings.ToLower(strings.Trim(it.text, "+-. ")); word == "nan" || word == "inf" || word == "infinity" {
		code, rule, remedy = joints.FaultNotNumber, "must be a finite number", "give a plain number such as 6 or 1/4in"
	}
	r.refuse(it, code, rule, remedy)
	return 0, false
}

// listed makes a list of what was written as one text between commas.
func listed(it item) item {
	text := strings.TrimSpace(it.text)
	if inner, ok := strings.CutPrefix(text, "["); ok {
		text = strings.TrimSuffix(inner, "]")
	}
	it.isList = true
	for part := range strings.SplitSeq(text, ",") {
		it.list = append(it.list, item{name: it.name, text: strings.TrimSpace(part), at: it.at})
	}
	return it
}

// pair reads one value for both members, or two.
func (r *reader) pair(f *field) (out [2]joints.Opt) {
	it, ok := r.sheet.items[f.name]
	if !ok {
		return out
	}
	if !it.isList {
		it = listed(it)
	}
	if len(it.list) > 2 || len(it.list) == 0 {
		it.text = fmt.Sprintf("%d values", len(it.list))
		r.refuse(it, jointfile.FaultShape, "is one value for both members or a list of two: member a, member b", "write "+f.name+": [3.1, 2.9]")
		return out
	}
	for i := range out {
		if i == 1 && len(it.list) == 1 {
			out[1] = out[0]
			break
		}
		one := it.list[i]
		if one.isList {
			one.text = "a list"
			r.refuse(one, jointfile.FaultShape, "is a length", "write "+f.name+": [3.1, 2.9]")
			return [2]joints.Opt{}
		}
		one.text = strings.TrimSpace(one.text)
		out[i] = r.lengthOf(one, f.limits)
	}
	if !out[0].Present || !out[1].Present {
		return [2]joints.Opt{}
	}
	return out
}

const maxPoints = 2000

// points reads the points of a profile; nil where there are none.
func (r *reader) points() *Points {
	lists := [...]struct {
		name  string
		least int
		to    []geometry.Point
	}{{name: "surface-a", least: 2}, {name: "surface-b", least: 2}, {name: "face", least: 3}, {name: "root"}}
	given, good := false, true
	for i := range lists {
		l := &lists[i]
		it, ok := r.sheet.items[l.name]
		if !ok {
			continue
		}
		given = true
		if l.to, ok = r.pointList(it); !ok {
			good = false
			continue
		}
		if len(l.to) < l.least {
			it.text = fmt.Sprintf("%d points", len(l.to))
			r.refuse(it, FaultTooFew, fmt.Sprintf("needs %d points or more", l.least), "read more points off the photograph")
			good = false
		}
	}
	scale, scaled := r.scalar("scale")
	if !given {
		if scaled {
			r.refuse(scale, joints.FaultConflict, "there are no points to scale", "give surface-a, surface-b and face, or leave scale out")
		}
		return nil
	}
	for _, l := range lists[:3] {
		if _, ok := r.sheet.items[l.name]; !ok {
			r.clash(l.name, joints.FaultMissing, "a profile needs surface-a, surface-b and face", "read the points of "+l.name+" too")
			good = false
		}
	}
	p := &Points{SurfaceA: lists[0].to, SurfaceB: lists[1].to, Face: lists[2].to, Root: lists[3].to}
	if !scaled {
		r.clash("scale", joints.FaultMissing, "points need a scale", "write scale: 0.02, the millimetres in one unit of the points")
		return nil
	}
	v, ok := r.parse(scale, geometry.UnitMM)
	if !ok {
		return nil
	}
	if mm := v.Millimetres(); mm < scales.Min || mm > scales.Max {
		r.refuse(scale, joints.FaultRange, fmt.Sprintf("must lie between %g mm and %g mm a unit", scales.Min, scales.Max), "give the millimetres in one unit of the points")
		return nil
	}
	if p.Scale = v; !good {
		return nil
	}
	return p
}

// pointList reads [[0, 0], [10, 0]], or 0,0 10,0 as one text.
func (r *reader) pointList(it item) ([]geometry.Point, bool) {
	const remedy = "write a list such as [[0, 0], [10, 0]], or 0,0 10,0"
	entries := it.list
	if !it.isList {
		for _, word := range strings.FieldsFunc(it.text, func(c rune) bool { return c == ' ' || c == ';' || c == '\t' }) {
			entries = append(entries, listed(item{name: it.name, text: word, at: it.at}))
		}
	}
	if len(entries) > maxPoints {
		it.text = fmt.Sprintf("%d points", len(entries))
		r.refuse(it, jointfile.FaultTooLarge, fmt.Sprintf("holds more than %d points", maxPoints), "thin them out")
		return nil, false
	}
	points := make([]geometry.Point, 0, len(entries))
	good := true
	for _, e := range entries {
		var xy [2]float64
		if !e.isList || len(e.list) != 2 {
			r.refuse(e, jointfile.FaultShape, "is not a point: two numbers", remedy)
			good = false
			continue
		}
		for i := range xy {
			c := e.list[i]
			v, err := strconv.ParseFloat(strings.TrimSpace(c.text), 64)
			switch {
			case c.isList || err != nil && !errors.Is(err, strconv.ErrRange) || strings.ContainsAny(c.text, "xXpP_"):
				r.refuse(c, joints.FaultSyntax, "is not a plain number", remedy)
				good = false
			case math.IsNaN(v) || math.Abs(v) > maxUnit:
				r.refuse(c, joints.FaultNotNumber, "is not a finite number of a photograph's size", remedy)
				good = false
			}
			xy[i] = v
		}
		points = append(points, geometry.Point{X: xy[0], Y: xy[1]})
	}
	return points, good
}

// maxUnit bounds the coordinates of points: more than any photograph has.
const maxUnit = 1e6

// contradictions reports sizes that exclude each other.
func (r *reader) contradictions(rec *Record) {
	s := &rec.Sizes
	positive := func(o joints.Opt) bool { return o.Present && o.Value > 0 }
	both := func(a, b string, x, y joints.Opt) {
		if positive(x) && positive(y) {
			r.clash(b, joints.FaultConflict, "contradicts "+a+": one section shows only one of the two", "measure again and keep one")
		}
	}
	both("cap-height", "underfill", s.CapHeight, s.Underfill)
	both("root-height", "root-concavity", s.RootHeight, s.RootConcavity)
	both("penetration", "lack-of-penetration", s.Penetration, s.LackOfPenetration)
	if rec.Points == nil {
		return
	}
	recovered := []string{"legs", "throat", "convexity"}
	if len(rec.Points.Root) > 0 {
		recovered = append(recovered, "penetration")
	}
	for _, name := range recovered {
		if _, ok := r.sheet.items[name]; ok {
			r.clash(name, joints.FaultConflict, "is recovered from the points already", "leave it out, or leave the points out")
		}
	}
}

// something asks for at least one size.
func (r *reader) something(rec *Record) {
	if rec.Points != nil || len(r.bad) > 0 || len(r.sheet.faults) > 0 {
		return
	}
	for i := range fields {
		f := &fields[i]
		if f.one != nil && f.one(&rec.Sizes).Present || f.pair != nil && f.pair(&rec.Sizes)[0].Present {
			return
		}
	}
	r.clash("", joints.FaultMissing, "nothing was measured", "give legs, throat, penetration or another size, or points")
}
