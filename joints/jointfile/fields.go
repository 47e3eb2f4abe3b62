package jointfile

import (
	"fay/geometry"
	"fay/joints"
)

// form is how a field is written.
type form uint8

const (
	formText    form = iota // one line of text
	formLength              // a length, with a tolerance where the kind's own
	formLengths             // one length or two
	formAngle
	formAngles // one angle or two
	formNumber
	formCount  // a whole number from 1
	formChoice // one word of a list
	formFlag
	formDate // YYYY-MM-DD
	formList // lines of text
)

// field describes one value of a joint file, by its full name.
type field struct {
	path    string
	no      fieldNo
	form    form
	limits  joints.Range // lengths in mm, angles in radians, counts
	choices []string
	param   *joints.Param // nil for the fields that every kind has
	doc     string
	sample  string // as a starter file shows it
	// group names fields that exclude each other, besides those of a kind.
	group string
}

// Ranges of the fields that every kind has: wide of practice, to catch a wrong
// unit or a slipped decimal point.
var (
	seamRange     = joints.Range{Min: 1, Max: 100_000}
	aroundRange   = joints.Range{Min: 3, Max: 100_000}
	countRange    = joints.Range{Min: 1, Max: 100_000}
	quantityRange = joints.Range{Min: 1, Max: 1_000_000}
	rodRange      = joints.Range{Min: 0.3, Max: 12}
	rodLength     = joints.Range{Min: 50, Max: 5000}
	stubRange     = joints.Range{Min: 0, Max: 5000}
)

const (
	maxLine  = 120 // characters of a text: more than a title block prints
	maxItems = 100 // entries of a list
)

// fieldNo numbers the fields of a book.
type fieldNo int

// The fields that every kind has come first and have the same numbers in all
// books, those of a seam in a row; then come those of the kind.
const (
	titleNo fieldNo = iota
	jobNo
	partNo
	markNo
	revisionNo
	quantityNo
	plannerNo
	dateNo
	changedNo
	reasonNo
	revisedByNo
	seamLengthNo
	seamAroundNo
	seamAxisNo
	seamInsideNo
	seamCountNo
	seamSegmentNo
	seamPitchNo
	seamSegmentsNo
	seamStaggeredNo
	seamWeldsNo
	fillerTypeNo
	fillerDiameterNo
	fillerLengthNo
	fillerStubNo
	stubFusedNo
	processNo
	checksNo
	notesNo
	materialNo
	unitsNo
	jointNo
	sidesNo // only where a kind has several welds
	firstOfKind
)

// common are the fields that every kind has, in the order of a starter file.
var common = [...]field{
	titleNo:      {path: "title", form: formText, doc: "name of the joint on the sheet, instead of the kind's", sample: "davit foot to deck plate"},
	jobNo:        {path: "traveler.job", form: formText, doc: "job number", sample: "CB-117"},
	partNo:       {path: "traveler.part", form: formText, doc: "part", sample: "davit foot"},
	markNo:       {path: "traveler.joint", form: formText, doc: "joint mark on the drawing", sample: "W3"},
	revisionNo:   {path: "traveler.revision", form: formText, doc: "revision", sample: "A"},
	quantityNo:   {path: "traveler.quantity", form: formCount, limits: quantityRange, doc: "parts to make", sample: "16"},
	plannerNo:    {path: "traveler.planner", form: formText, doc: "who planned it", sample: "planning"},
	dateNo:       {path: "traveler.date", form: formDate, doc: "year-month-day", sample: "2026-03-02"},
	changedNo:    {path: "traveler.changed", form: formDate, doc: "day of the revision, year-month-day", sample: "2026-03-09"},
	reasonNo:     {path: "traveler.reason", form: formText, doc: "why it was revised", sample: "gap opened after the trial piece"},
	revisedByNo:  {path: "traveler.revised-by", form: formText, doc: "who revised it", sample: "drawing office"},
	seamLengthNo: {path: "seam.length", form: formLength, limits: seamRange, group: "seam", doc: "length of one straight seam", sample: "180"},
	seamAroundNo: {path: "seam.around", form: formLength, limits: aroundRange, group: "seam", doc: "diameter of a round seam, instead of length: at the root of the first weld, of the outer surface where the axis is level", sample: "60"},
	seamAxisNo: {path: "seam.axis", form: formChoice, choices: []string{string(joints.AxisUpright), string(joints.AxisLevel)},
		doc: "axis of a round seam: upright for a tube on a plate, level for tubes end to end", sample: string(joints.AxisUpright)},
	seamInsideNo:     {path: "seam.inside", form: formFlag, doc: "yes: the arrow side faces the axis of a round seam", sample: "no"},
	seamCountNo:      {path: "seam.count", form: formCount, limits: countRange, doc: "seams alike on one part", sample: "1"},
	seamSegmentNo:    {path: "seam.segment", form: formLength, limits: seamRange, doc: "length of each segment of an intermittent weld", sample: "30"},
	seamPitchNo:      {path: "seam.pitch", form: formLength, limits: seamRange, doc: "segments centre to centre", sample: "60"},
	seamSegmentsNo:   {path: "seam.segments", form: formCount, limits: countRange, doc: "how many segments; as many as fit when left out", sample: "3"},
	seamStaggeredNo:  {path: "seam.staggered", form: formFlag, doc: "yes: the other side's segments stand half a pitch on", sample: "no"},
	seamWeldsNo:      {path: seamWelds, form: formList, doc: "the welds that this seam has; all of them when left out"},
	fillerTypeNo:     {path: "filler.type", form: formText, doc: "name in the filler table", sample: "5183"},
	fillerDiameterNo: {path: "filler.diameter", form: formLength, limits: rodRange, doc: "rod or wire diameter", sample: "2.4mm"},
	fillerLengthNo:   {path: "filler.length", form: formLength, limits: rodLength, doc: "cut length of a rod", sample: "1000mm"},
	fillerStubNo:     {path: "filler.stub", form: formLength, limits: stubRange, doc: "what is left of each rod", sample: "50mm"},
	stubFusedNo:      {path: "filler.stub-fused", form: formFlag, doc: "yes: stubs are fused to the next rod, none is lost", sample: "no"},
	processNo:        {path: "filler.process", form: formText, doc: "welding process", sample: "gtaw"},
	checksNo:         {path: "checks", form: formList, doc: "rule documents to check against", sample: "[aisc-360-16, iso-5817-2014/C]"},
	notesNo:          {path: "notes", form: formList, doc: "lines for the bench", sample: "[tack both ends first]"},
	materialNo:       {path: materialField, form: formText, doc: "metal of every member that names none of its own", sample: "EN AW-6082"},
	unitsNo:          {path: "units", form: formChoice, choices: []string{"mm", "in"}, doc: "unit of a number without one: mm or in", sample: "mm"},
}

// Names with a meaning of their own.
const (
	jointField = "joint"
	unitsField = "units"
	sidesField = "sides"
	bothSides  = "both"
	weldsGroup = "welds"
	seamGroup  = "seam"
	seamsGroup = "seams"
	seamWelds  = "seam.welds"
	// materialField is of all members; one of a member's own goes over it.
	materialField = "material"
)

// maxSeams bounds the seams of one joint.
const maxSeams = 100

// unitOf reads the two units a file may be written in.
func unitOf(word string) geometry.Unit {
	if word == "in" {
		return geometry.UnitInch
	}
	return geometry.UnitMM
}
