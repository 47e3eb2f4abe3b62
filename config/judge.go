package config

import (
	"errors"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"fay/geometry"
)

// raw is the settings as text, all layers merged, not yet judged.
type raw struct {
	Units       string     `mapstructure:"units"`
	Printed     string     `mapstructure:"printed"`
	Inches      string     `mapstructure:"inches"`
	Denominator string     `mapstructure:"denominator"`
	Dual        string     `mapstructure:"dual"`
	Sheet       string     `mapstructure:"sheet"`
	Orientation string     `mapstructure:"orientation"`
	Language    string     `mapstructure:"language"`
	Style       string     `mapstructure:"style"`
	Tint        string     `mapstructure:"tint"`
	Symbols     string     `mapstructure:"symbols"`
	Company     string     `mapstructure:"company"`
	Logo        string     `mapstructure:"logo"`
	Filler      rawFiller  `mapstructure:"filler"`
	Process     string     `mapstructure:"process"`
	Checks      []string   `mapstructure:"checks"`
	Fillers     []rawEntry `mapstructure:"fillers"`
	Materials   []rawEntry `mapstructure:"materials"`

	Allowances rawAllowances `mapstructure:"allowances"`
	Gas        rawGas        `mapstructure:"gas"`
	Cost       rawCost       `mapstructure:"cost"`
	Work       rawWork       `mapstructure:"work"`
	Prices     []rawPrice    `mapstructure:"prices"`
	Processes  []rawPractice `mapstructure:"processes"`
	Limits     []rawLimit    `mapstructure:"limits"`

	Machine      string           `mapstructure:"machine"`
	Machines     []rawMachine     `mapstructure:"machines"`
	Calibrations []rawCalibration `mapstructure:"calibrations"`
}

type rawAllowances struct {
	Oversize string `mapstructure:"oversize"`
	Tack     string `mapstructure:"tack"`
	Waste    string `mapstructure:"waste"`
}

type rawGas struct {
	Cylinder string `mapstructure:"cylinder"`
}

type rawCost struct {
	Currency string `mapstructure:"currency"`
	Labour   string `mapstructure:"labour"`
	Gas      string `mapstructure:"gas"`
	ArcShare string `mapstructure:"arc-share"`
}

type rawWork struct {
	Edge  string `mapstructure:"edge"`
	Turn  string `mapstructure:"turn"`
	Gouge string `mapstructure:"gouge"`
}

type rawPrice struct {
	Filler   string `mapstructure:"filler"`
	Diameter string `mapstructure:"diameter"`
	Pack     string `mapstructure:"pack"`
	Price    string `mapstructure:"price"`
	Source   string `mapstructure:"source"`
}

type rawPractice struct {
	Process    string `mapstructure:"process"`
	PassArea   string `mapstructure:"pass-area"`
	Speed      string `mapstructure:"travel-speed"`
	Rate       string `mapstructure:"deposition-rate"`
	Flow       string `mapstructure:"gas-flow"`
	Efficiency string `mapstructure:"efficiency"`
	Source     string `mapstructure:"source"`
}

type rawFiller struct {
	Type      string `mapstructure:"type"`
	Diameter  string `mapstructure:"diameter"`
	Length    string `mapstructure:"length"`
	Stub      string `mapstructure:"stub"`
	StubFused string `mapstructure:"stub-fused"`
	Pack      string `mapstructure:"pack"`
}

type rawEntry struct {
	Name          string   `mapstructure:"name"`
	Density       string   `mapstructure:"density"`
	Family        string   `mapstructure:"family"`
	Like          string   `mapstructure:"like"`
	Source        string   `mapstructure:"source"`
	Aliases       []string `mapstructure:"aliases"`
	HeatTreatable string   `mapstructure:"heat-treatable"`
	HighMagnesium string   `mapstructure:"high-magnesium"`
	Conductivity  string   `mapstructure:"conductivity"`
	HeatCapacity  string   `mapstructure:"heat-capacity"`
	Solidus       string   `mapstructure:"solidus"`
	Liquidus      string   `mapstructure:"liquidus"`
	LatentHeat    string   `mapstructure:"latent-heat"`
}

// judge turns raw settings into valid ones and collects what is wrong.
type judge struct {
	raw       raw
	places    map[string]place
	documents []string
	faults    Faults
}

func (j *judge) fault(code FaultCode, path, value, rule, remedy string) {
	at := j.places[path]
	j.faults = append(j.faults, Fault{
		Code: code, Key: path, Origin: at.origin, Column: at.column,
		Value: value, Rule: rule, Remedy: remedy,
	})
}

func (j *judge) settings() Settings {
	r := j.raw
	s := Settings{Company: strings.TrimSpace(r.Company)}
	if j.choice("units", r.Units) == "in" {
		s.Units = geometry.UnitInch
	}
	if printed := j.choice("printed", r.Printed); printed != string(Auto) {
		s.Printed = Printed(printed)
	}
	s.NoTint = j.choice("tint", r.Tint) == "false"
	s.Inches = Printing(j.choice("inches", r.Inches))
	// A text that is not one of the allowed numbers is already a fault.
	s.Denominator, _ = strconv.Atoi(j.choice("denominator", r.Denominator))
	s.Dual = j.choice("dual", r.Dual) == "true"
	s.Sheet = Sheet(j.choice("sheet", r.Sheet))
	s.Orientation = Orientation(j.choice("orientation", r.Orientation))
	s.Language = Convention(j.choice("language", r.Language))
	s.Style = Convention(j.choice("style", r.Style))
	if s.Style == Convention(Auto) {
		s.Style = s.Language
	}
	s.Symbols = Symbols(j.choice("symbols", r.Symbols))
	if s.Symbols == Symbols(Auto) {
		s.Symbols = ISO2553A
		if s.Style == US {
			s.Symbols = AWSA24
		}
	}
	j.company(s.Company)
	s.Logo = j.logo(strings.TrimSpace(r.Logo))
	if p, err := ParseProcess(r.Process); err != nil {
		j.fault(FaultValue, "process", r.Process, "allowed: "+strings.Join(processNames(), ", "), didYouMean(err, "choose one of them"))
	} else {
		s.Process = p
	}
	s.Checks = j.checks(r.Checks)
	s.Fillers = j.fillers(r.Fillers)
	s.Materials = j.materials(r.Materials)
	s.Filler = j.filler(r.Filler, s)
	share := shareQuantity
	share.hi = mostAllowance
	s.Allowances = Allowances{
		Oversize: j.quantity("allowances.oversize", r.Allowances.Oversize, shareQuantity) / 100,
		Tack:     j.quantity("allowances.tack", r.Allowances.Tack, share) / 100,
		Waste:    j.quantity("allowances.waste", r.Allowances.Waste, share) / 100,
	}
	s.Cylinder = j.quantity("gas.cylinder", r.Gas.Cylinder, gasQuantity)
	s.Costs = j.costs(r.Cost)
	s.Work = Work{
		Edge: j.quantity("work.edge", r.Work.Edge, paceQuantity), Turn: j.quantity("work.turn", r.Work.Turn, timeQuantity),
		Gouge: j.quantity("work.gouge", r.Work.Gouge, paceQuantity),
	}
	s.Prices = j.prices(r.Prices, s)
	s.OwnPractices = j.practices(r.Processes)
	s.Limits = j.limits(r.Limits)
	s.Machines = j.machines(r.Machines)
	s.Calibrations = j.calibrations(r.Calibrations, s.Machines)
	s.DefaultMachine = j.machine(r.Machine, s)
	return s
}

// choice reads one of the words a key allows, whatever the case.
func (j *judge) choice(name, text string) string {
	k, _ := findKey(name)
	text = strings.TrimSpace(text)
	for _, word := range k.allowed {
		if strings.EqualFold(word, text) {
			return word
		}
	}
	remedy := "choose one of them"
	if near, ok := Nearest(text, k.allowed); ok {
		remedy = fmt.Sprintf("did you mean %q?", near)
	}
	j.fault(FaultValue, name, text, "allowed: "+strings.Join(k.allowed, ", "), remedy)
	return ""
}

func (j *judge) company(text string) {
	if utf8.RuneCountInString(text) > maxCompany {
		j.fault(FaultRange, "company", text, fmt.Sprintf("at most %d characters fit a title block line", maxCompany), "shorten it")
	}
	if !printable(text) {
		j.fault(FaultValue, "company", text, "printable characters on one line", "remove line breaks and control characters")
	}
}

// logo finds a file named in a settings file beside that file. It is read when
// a sheet is drawn.
func (j *judge) logo(path string) string {
	if !printable(path) {
		j.fault(FaultValue, "logo", path, "the name of a file", "name an SVG or PNG file")
		return ""
	}
	at := j.places["logo"].origin
	if path == "" || filepath.IsAbs(path) || at.Layer != LayerFile || at.Name == "" {
		return path
	}
	return filepath.Join(filepath.Dir(at.Name), path)
}

func printable(text string) bool {
	return utf8.ValidString(text) && strings.IndexFunc(text, func(r rune) bool { return !unicode.IsPrint(r) }) < 0
}

// document is the form of a rule document's name with an optional level.
var document = regexp.MustCompile(`^[a-z0-9][a-z0-9.-]{0,63}(/[A-Za-z0-9.-]{1,16})?$`)

func (j *judge) checks(list []string) []string {
	out := make([]string, 0, len(list))
	seen := map[string]bool{}
	for i, text := range list {
		path := j.item("checks", i)
		name, level, graded := strings.Cut(strings.TrimSpace(text), "/")
		name = strings.ToLower(name)
		full := name
		if graded {
			full += "/" + level
		}
		switch {
		case !document.MatchString(full):
			j.fault(FaultValue, path, text, "a document is named like aisc-360-16 or iso-5817-2014/C", "see `fay rules` for the names")
		case seen[full]:
			j.fault(FaultDuplicate, path, text, "a document may stand once", "keep one of the two")
		case j.documents != nil && !slices.Contains(j.documents, name):
			remedy := "see `fay rules` for the names"
			if near, ok := Nearest(name, j.documents); ok {
				remedy = fmt.Sprintf("did you mean %q?", near)
			}
			j.fault(FaultName, path, text, "no such rule document", remedy)
		default:
			out = append(out, full)
		}
		seen[full] = true
	}
	return out
}

// item returns the path of a list's item where its place is known, and the
// list's own path otherwise.
func (j *judge) item(name string, i int) string {
	path := fmt.Sprintf("%s[%d]", name, i)
	if _, ok := j.places[path]; ok {
		return path
	}
	return name
}

func (j *judge) filler(r rawFiller, s Settings) FillerDefaults {
	f := FillerDefaults{
		StubFused: j.choice("filler.stub-fused", r.StubFused) == "true",
		Pack:      j.quantity("filler.pack", r.Pack, massQuantity),
	}
	auto := func(text string) bool { return strings.EqualFold(strings.TrimSpace(text), string(Auto)) }
	if !auto(r.Diameter) {
		f.Diameter = j.length("filler.diameter", r.Diameter, s.Units, minRodDiameter, maxRodDiameter)
	}
	if !auto(r.Length) {
		f.Length = j.length("filler.length", r.Length, s.Units, minRodLength, maxRodLength)
	}
	if !auto(r.Stub) {
		f.Stub = new(j.length("filler.stub", r.Stub, s.Units, 0, maxRodLength))
	}
	if _, length, stub := f.Rod(s.Units); stub >= length {
		path, text := "filler.stub", r.Stub
		if f.Stub == nil {
			path, text = "filler.length", r.Length
		}
		j.fault(FaultRange, path, text, fmt.Sprintf("a stub, %g mm, is shorter than the rod, %g mm", stub.Millimetres(), length.Millimetres()),
			"give what is left of a rod as filler.stub")
	}
	if name := strings.TrimSpace(r.Type); name != "" {
		if found, err := s.Catalogue().Filler(name); err != nil {
			j.fault(FaultName, "filler.type", name, "no such filler",
				didYouMean(err, "see `fay fillers`, or add it under fillers with its density"))
		} else {
			f.Type = found.Name
		}
	}
	return f
}

// length reads a length between lo and hi; it returns 0 after a fault.
func (j *judge) length(path, text string, bare geometry.Unit, lo, hi geometry.Length) geometry.Length {
	rule := fmt.Sprintf("a length from %g mm to %g mm", lo.Millimetres(), hi.Millimetres())
	l, err := geometry.ParseLength(strings.TrimSpace(text), geometry.LengthSyntax{Bare: bare})
	if err != nil {
		remedy := err.Error()
		if parse, ok := errors.AsType[*geometry.ParseError](err); ok {
			remedy = parse.Rule + "; " + parse.Remedy
		}
		j.fault(FaultValue, path, text, rule, remedy)
		return 0
	}
	if !(l >= lo && l <= hi) {
		j.fault(FaultRange, path, text, rule, "check the unit: a bare number is in "+bare.String())
		return 0
	}
	return l
}

// didYouMean turns a failed look-up into a remedy.
func didYouMean(err error, otherwise string) string {
	if e, ok := errors.AsType[*UnknownNameError](err); ok && e.Nearest != "" {
		return fmt.Sprintf("did you mean %q?", e.Nearest)
	}
	return otherwise
}

func orAuto(text string) string {
	if text == "" {
		return string(Auto)
	}
	return text
}

// entries lists every setting as it came out.
func (j *judge) entries(s Settings) []Entry {
	values := map[string]string{
		"units": s.Units.String(), "printed": orAuto(string(s.Printed)), "tint": strconv.FormatBool(!s.NoTint), "inches": string(s.Inches), "denominator": strconv.Itoa(s.Denominator),
		"dual": strconv.FormatBool(s.Dual), "sheet": string(s.Sheet), "orientation": string(s.Orientation),
		"language": string(s.Language), "style": string(s.Style), "symbols": string(s.Symbols), "company": s.Company, "logo": s.Logo,
		"filler.type": s.Filler.Type, "filler.diameter": strings.TrimSpace(j.raw.Filler.Diameter),
		"filler.length": strings.TrimSpace(j.raw.Filler.Length), "filler.stub": strings.TrimSpace(j.raw.Filler.Stub),
		"filler.stub-fused": strconv.FormatBool(s.Filler.StubFused),
		"process":           string(s.Process), "checks": strings.Join(s.Checks, ", "),
		"fillers": fillerNames(s.Fillers), "materials": materialNames(s.Materials),
		"filler.pack":         strings.TrimSpace(j.raw.Filler.Pack),
		"allowances.oversize": strings.TrimSpace(j.raw.Allowances.Oversize),
		"allowances.tack":     strings.TrimSpace(j.raw.Allowances.Tack),
		"allowances.waste":    strings.TrimSpace(j.raw.Allowances.Waste),
		"gas.cylinder":        strings.TrimSpace(j.raw.Gas.Cylinder),
		"cost.currency":       s.Costs.Currency,
		"cost.labour":         strings.TrimSpace(j.raw.Cost.Labour),
		"cost.gas":            strings.TrimSpace(j.raw.Cost.Gas),
		"cost.arc-share":      strings.TrimSpace(j.raw.Cost.ArcShare),
		"work.edge":           strings.TrimSpace(j.raw.Work.Edge),
		"work.turn":           strings.TrimSpace(j.raw.Work.Turn),
		"work.gouge":          strings.TrimSpace(j.raw.Work.Gouge),
		"prices":              priceNames(s.Prices),
		"processes":           practiceNames(s.OwnPractices),
		"limits":              limitNames(s.Limits),
		"machine":             s.DefaultMachine,
		"machines":            machineNames(s.Machines),
		"calibrations":        calibrationNames(s.Calibrations),
	}
	entries := make([]Entry, 0, len(keys))
	for _, k := range keys {
		origin := j.places[k.name].origin
		if origin.Layer == LayerDefault {
			switch k.name {
			case "style":
				origin.Name = "follows language"
			case "symbols":
				origin.Name = "follows style"
			}
		}
		entries = append(entries, Entry{
			Key: k.name, Value: values[k.name], Origin: origin, Env: k.env(), Doc: strings.Join(k.doc, " "),
		})
	}
	return entries
}
