package config

import "fay/geometry"

// Printed is the unit that sizes are printed in; empty for that of the joint.
type Printed string

// The units to print in.
const (
	PrintMM   Printed = "mm"
	PrintInch Printed = "in"
)

// PrintUnit is the unit that what is read in the given one is printed in.
func (s Settings) PrintUnit(read geometry.Unit) geometry.Unit {
	switch s.Printed {
	case PrintMM:
		return geometry.UnitMM
	case PrintInch:
		return geometry.UnitInch
	}
	return read
}

// Printing says how inches are printed.
type Printing string

// Ways to print inches.
const (
	Fractions Printing = "fractions" // 1-1/4
	Decimals  Printing = "decimals"  // 1.250
)

// Sheet is a sheet size.
type Sheet string

// Sheet sizes.
const (
	A4     Sheet = "A4"     // 210 × 297 mm
	A3     Sheet = "A3"     // 297 × 420 mm
	Letter Sheet = "Letter" // 8.5 × 11 in
)

// Orientation is how the sheet is held.
type Orientation string

// Orientations.
const (
	Auto      Orientation = "auto" // whichever shows the section larger
	Portrait  Orientation = "portrait"
	Landscape Orientation = "landscape"
)

// Convention picks between the two traditions of the trade: for words it is
// the language setting, for lines and symbols the drafting style.
type Convention string

// The two conventions.
const (
	ISO Convention = "iso"
	US  Convention = "us"
)

// Symbols is the standard that welding symbols are drawn by.
type Symbols string

// The standards of welding symbols.
const (
	ISO2553A Symbols = "iso-2553-a" // system A of ISO 2553
	ISO2553B Symbols = "iso-2553-b" // system B of ISO 2553
	AWSA24   Symbols = "aws-a2.4"
)

// Settings is what a shop decides once. A value of this type made by Load is
// valid.
type Settings struct {
	Units       geometry.Unit // of a bare number, and of printed sizes
	Printed     Printed       // unit of printed sizes where it is not that of the joint
	Inches      Printing
	Denominator int  // of printed fractions: 2, 4, 8, 16, 32 or 64
	Dual        bool // dimensions in the other unit too, in brackets
	Sheet       Sheet
	Orientation Orientation
	Language    Convention
	Style       Convention // drafting style; follows Language unless set
	Symbols     Symbols    // of welds; follow Style unless set
	NoTint      bool       // welds are drawn without their tint
	Company     string     // line for the title block; empty: none
	Logo        string     // file of the shop's mark, SVG or PNG; empty: none
	Filler      FillerDefaults
	Process     Process
	// Checks lists the rule documents, such as aisc-360-16 or
	// iso-5817-2014/C. Empty: the shop chose none.
	Checks []string
	// Fillers and Materials are the shop's own entries, complete.
	Fillers   []Filler
	Materials []Material
	// Allowances, Costs and Prices are the shop's own; nothing is added and
	// nothing costs anything where it gave none.
	Allowances Allowances
	Costs      Costs
	Work       Work
	Prices     []Price
	// Limits are the shop's own, checked beside the rule documents.
	Limits []Limit
	// OwnPractices are the shop's own numbers of processes, zero where it gave
	// none; see Practices.
	OwnPractices []Practice
	Cylinder     float64 // m³ of gas in one
	// Machines are those of the shop, and Calibrations what cut sections said
	// of their arcs. DefaultMachine is the one taken where none is named; empty:
	// none.
	Machines       []Machine
	Calibrations   []Calibration
	DefaultMachine string
}

// FillerDefaults is the filler taken where a joint names none.
type FillerDefaults struct {
	Type     string           // name in the catalogue; empty: none, volumes without masses
	Diameter geometry.Length  // 0: the usual one, see Rod
	Length   geometry.Length  // cut length of a rod; 0: the usual one
	Stub     *geometry.Length // what is left of a rod; nil: the usual one
	// StubFused: stubs are fused to the next rod, so none is lost.
	StubFused bool
	Pack      float64 // kg; 0: the usual one, see UsualPack
}

// Rod is the rod taken for a joint read in the given unit: what the shop gave,
// else the usual one of that market.
func (f FillerDefaults) Rod(unit geometry.Unit) (diameter, length, stub geometry.Length) {
	diameter, length, stub = usualRod(unit)
	if f.Diameter > 0 {
		diameter = f.Diameter
	}
	if f.Length > 0 {
		length = f.Length
	}
	if f.Stub != nil {
		stub = *f.Stub
	}
	return diameter, length, stub
}

// Catalogue returns the tables with the shop's own entries over them.
func (s Settings) Catalogue() Catalogue { return newCatalogue(s.Fillers, s.Materials) }

// Ranges of the settings, wide enough for anything sold, narrow enough to
// catch a slip of units.
const (
	minRodDiameter = 0.3 * geometry.Millimetre
	maxRodDiameter = 12 * geometry.Millimetre
	minRodLength   = 50 * geometry.Millimetre
	maxRodLength   = 5 * geometry.Metre
	maxCompany     = 60 // characters: what a title block line holds
	// At 100 % tacks are as large as the welds, and half of what is bought is
	// thrown away.
	mostAllowance = 100
)
