package jointfile

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fay/geometry"
	"fay/joints"
)

// Seam is one run of weld along the part with what it comes to.
type Seam struct {
	joints.Seam
	Runs []joints.Run // one for each weld that the seam has
}

// Total is what one weld comes to over all seams of a part.
type Total struct {
	Weld   string
	Length geometry.Length // of all segments of all seams
	Volume float64         // deposited metal, mm³
	Fused  float64         // fused metal, mm³
}

// SeamAxis is the axis a round seam of a kind runs round: the one given, else
// the kind's own, else an upright one.
func SeamAxis(kind string, given joints.Axis) joints.Axis {
	if given != "" {
		return given
	}
	if k, ok := joints.LookupKind(kind); ok && k.Axis != "" {
		return k.Axis
	}
	return joints.AxisUpright
}

// The first seam has two names, seam and seams.1: a file with one seam is
// overridden like a file with several. Inside, it is always seam.

// seamPath is the full name of a seam, counted from 1.
func seamPath(n int) string {
	if n == 1 {
		return seamGroup
	}
	return seamsGroup + "." + strconv.Itoa(n)
}

// seamOf splits the name of a seam, or of something in one, into the seam's
// number and the rest, which is empty for the seam itself.
func seamOf(name string) (n int, rest string, ok bool) {
	first, rest, _ := strings.Cut(name, ".")
	switch first {
	case seamGroup:
		return 1, rest, true
	case seamsGroup:
		number, rest, _ := strings.Cut(rest, ".")
		n, err := strconv.Atoi(number)
		if err != nil || n < 1 || n > maxSeams || strconv.Itoa(n) != number {
			return 0, "", false
		}
		return n, rest, true
	}
	return 0, "", false
}

// canonical is the one full name of a seam's field; other names are returned
// as they are.
func canonical(name string) string {
	n, rest, ok := seamOf(name)
	switch {
	case !ok || rest != "" && strings.HasPrefix(name, seamGroup+"."):
		return name
	case rest == "":
		return seamPath(n)
	}
	return seamPath(n) + "." + rest
}

// field finds what is known of a full name. All seams have the same fields.
func (b *book) field(path string) *field { return b.fields[template(path)] }

// group reports whether names stand below a full name.
func (b *book) group(path string) bool { return path == seamsGroup || b.groups[template(path)] }

// template is the name under which a book describes a full name.
func template(path string) string {
	_, rest, ok := seamOf(path)
	switch {
	case !ok || rest != "" && strings.HasPrefix(path, seamGroup+"."):
		return path
	case rest == "":
		return seamGroup
	}
	return seamGroup + "." + rest
}

// listed reports whether the seams were written as a list, or as more than
// one: faults then name the first one seams.1, too.
func (l *layer) listed() bool {
	if _, ok := l.groups[seamsGroup]; ok {
		return true
	}
	numbers := l.seamNumbers()
	return len(numbers) > 0 && numbers[len(numbers)-1] > 1
}

// seamNumbers are the numbers of the seams that anything was written of.
func (l *layer) seamNumbers() []int {
	var numbers []int
	add := func(path string) {
		if n, _, ok := seamOf(path); ok && !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	if slices.ContainsFunc(l.items[seamLengthNo:seamWeldsNo+1], func(it *item) bool { return it != nil }) {
		numbers = append(numbers, 1)
	}
	for path := range l.seams {
		add(path)
	}
	for path := range l.groups {
		add(path)
	}
	slices.Sort(numbers)
	return numbers
}

// seams reads every seam. The numbers are those the faults of measuring them
// name.
func (r *reading) seams() (seams []Seam, numbers []int) {
	numbers = r.seamNumbers()
	for i, n := range numbers {
		if n > i+1 && !r.takenAway(i+1) && (i == 0 || numbers[i-1] == i) {
			at := r.firstOf(n)
			r.fault(joints.FaultMissing, seamPath(i+1), "", at, fmt.Sprintf("is missing: seams are counted from 1 without a break, but %s is given", seamPath(n)),
				"call it "+seamPath(i+1))
		}
		seams = append(seams, Seam{Seam: r.seam(n)})
	}
	return seams, numbers
}

// firstOf is the first place where something was written of a seam.
func (r *reading) firstOf(n int) Place {
	at, known := r.groups[seamPath(n)]
	for _, it := range r.order {
		if k, _, ok := seamOf(it.path); ok && k == n && (!known || comparePlaces(it.at, at) < 0) {
			at, known = it.at, true
		}
	}
	return at
}

// takenAway reports whether an empty assignment named the seam.
func (r *reading) takenAway(n int) bool {
	return slices.ContainsFunc(r.gone, func(g item) bool { return g.path == seamPath(n) })
}

// ofSeam is the value of a field of a seam.
func (l *layer) ofSeam(n int, no fieldNo) *item {
	if n == 1 {
		return l.items[no]
	}
	return l.seams[seamPath(n)+strings.TrimPrefix(common[no].path, seamGroup)]
}

func (r *reading) seam(n int) joints.Seam {
	of := func(no fieldNo) *item { return r.ofSeam(n, no) }
	s := joints.Seam{
		Length: r.within(of(seamLengthNo)).Value, Around: r.within(of(seamAroundNo)).Value, Inside: r.yes(of(seamInsideNo)),
		Count: r.count(of(seamCountNo)), Segment: r.within(of(seamSegmentNo)).Value, Pitch: r.within(of(seamPitchNo)).Value,
		Segments: r.count(of(seamSegmentsNo)), Staggered: r.yes(of(seamStaggeredNo)), Welds: r.weldNames(of(seamWeldsNo)),
	}
	axis, round := r.scalar(of(seamAxisNo))
	if round {
		word, _ := r.choice(axis, axis.field.choices)
		s.Axis = joints.Axis(word)
	}
	// On a straight seam they would be ignored, and mean that something else
	// was wanted.
	if of(seamLengthNo) != nil {
		if round {
			r.refuse(axis, joints.FaultConflict, "a straight seam has no axis", "give around in place of length, or leave it out")
		}
		if s.Inside {
			r.refuse(of(seamInsideNo), joints.FaultConflict, "a straight seam has no inside", "give around in place of length, or leave it out")
		}
	}
	return s
}

// weldNames reads the welds of a seam: ids of the kind, each once.
func (r *reading) weldNames(it *item) []string {
	if it == nil {
		return nil
	}
	entries := it.list
	if !it.isList {
		entries = []item{*it}
	}
	ids := make([]string, len(r.book.kind.Welds))
	for i := range ids {
		ids[i] = r.book.kind.Welds[i].ID
	}
	var names []string
	for i := range entries {
		entry := &entries[i]
		id, ok := r.choice(entry, ids)
		switch {
		case !ok:
		case slices.Contains(names, id):
			r.refuse(entry, joints.FaultDuplicate, "is in the list already", "keep one of the two")
		default:
			names = append(names, id)
		}
	}
	if len(entries) == 0 {
		r.refuse(it, joints.FaultMissing, "names no weld", "leave it out: a seam then has all welds of the joint")
	}
	return names
}

// measure computes the runs of every seam. A section that could not be built
// still tells what is wrong with a seam by itself.
func (r *reading) measure(doc *Document, section *joints.Section, built bool, numbers []int) {
	seams := doc.Seams
	for i := range seams {
		seam := seams[i].Seam
		prefix := seamPath(numbers[i])
		partial := false
		for path := range r.bad {
			partial = partial || path == prefix || strings.HasPrefix(path, prefix+".")
		}
		if !built {
			seam.Welds = nil // which welds there are is not known
		}
		runs, err := section.Runs(seam, prefix+".")
		r.building(err, doc.Units, partial)
		seams[i].Runs = runs
	}
	doc.Runs = totals(seams)
}

// nameSeams names the first seam seams.1 in the faults of a list.
func (r *reading) nameSeams() {
	if !r.listed() {
		return
	}
	for i := range r.faults {
		f := &r.faults[i]
		if rest, ok := strings.CutPrefix(f.Field, seamGroup); ok && (rest == "" || rest[0] == '.') {
			f.Field = seamsGroup + ".1" + rest
		}
	}
}

// totals adds up the runs of each weld, in the order they first occur.
func totals(seams []Seam) []Total {
	var out []Total
	for i := range seams {
		for _, run := range seams[i].Runs {
			k := slices.IndexFunc(out, func(t Total) bool { return t.Weld == run.Weld })
			if k < 0 {
				k, out = len(out), append(out, Total{Weld: run.Weld})
			}
			out[k].Length += run.Length
			out[k].Volume += run.Volume
			out[k].Fused += run.Fused
		}
	}
	return out
}
