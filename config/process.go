package config

import (
	"fmt"
	"slices"
)

// Process is an arc welding process.
type Process string

// The processes on file.
const (
	GTAW Process = "gtaw"   // TIG
	GMAW Process = "gmaw"   // MIG, MAG with solid wire
	MCAW Process = "mcaw"   // metal-cored wire
	FCAG Process = "fcaw-g" // flux-cored wire with gas
	FCAS Process = "fcaw-s" // flux-cored wire, self-shielded
	SMAW Process = "smaw"   // covered electrode
	SAW  Process = "saw"    // submerged arc
)

// Processes lists every process in print order.
func Processes() []Process { return []Process{GTAW, GMAW, MCAW, FCAG, FCAS, SMAW, SAW} }

func processNames() []string {
	names := make([]string, 0, len(Processes()))
	for _, p := range Processes() {
		names = append(names, string(p))
	}
	return names
}

// processWords are the trade names and the ISO 4063 process numbers, the
// numbers from memory, unverified.
var processWords = map[string]Process{
	"tig": GTAW, "141": GTAW, "gta": GTAW,
	"mig": GMAW, "mag": GMAW, "131": GMAW, "135": GMAW,
	"metalcored": MCAW, "138": MCAW,
	"fcaw": FCAG, "fluxcored": FCAG, "136": FCAG,
	"selfshielded": FCAS, "114": FCAS,
	"mma": SMAW, "stick": SMAW, "111": SMAW,
	"submergedarc": SAW, "12": SAW, "121": SAW,
}

// ParseProcess reads a process name (gtaw), a trade name (TIG) or an ISO 4063
// number (141), whatever its case and spacing.
func ParseProcess(text string) (Process, error) {
	folded := fold(text)
	for _, p := range Processes() {
		if fold(string(p)) == folded {
			return p, nil
		}
	}
	if p, ok := processWords[folded]; ok {
		return p, nil
	}
	return "", unknownName("process", text, processNames())
}

// Efficiency is the share of bought filler that ends up in the weld.
type Efficiency struct {
	Process Process
	Variant string  // gas, electrode length or kind, as the source names it
	Value   float64 // fraction of 1
	// IncludesStub: the share already counts thrown-away stubs, so a stub
	// allowance on top would count them twice.
	IncludesStub bool
	Source       Source
}

// String prints the row as a table line.
func (e Efficiency) String() string {
	return fmt.Sprintf("%s (%s) %.0f %%", e.Process, e.Variant, e.Value*100)
}

// Efficiencies returns every published deposition efficiency, the row used
// when nothing else is said first within each process.
func Efficiencies() []Efficiency { return slices.Clone(efficiencies) }

var efficiencies = func() []Efficiency {
	postle := Source{Text: "www.postle.com/deposit_wt.htm", Provenance: Secondary}
	trade := Source{Text: "weldingpro.com", Provenance: Secondary}
	// The numbers and their order were read on the page; which process owns
	// which number was not, so the pairing decides the provenance.
	esab := Source{
		Text:       "ESAB filler metal handbook page 8-3 (de.scribd.com/document/89025026), row pairing " + unverified,
		Provenance: Memory,
	}
	kobe := kobeSteel
	return []Efficiency{
		{Process: GTAW, Variant: "bare rod", Value: 0.98, Source: postle},
		{Process: GMAW, Variant: "solid wire", Value: 0.95, Source: kobe},
		{Process: GMAW, Variant: "Ar-2O₂", Value: 0.98, Source: esab},
		{Process: GMAW, Variant: "Ar-25CO₂", Value: 0.96, Source: esab},
		{Process: GMAW, Variant: "CO₂", Value: 0.93, Source: esab},
		{Process: GMAW, Variant: "solid, trade page", Value: 0.90, Source: trade},
		{Process: MCAW, Variant: "metal-cored", Value: 0.95, Source: postle},
		{Process: MCAW, Variant: "metal-cored, handbook", Value: 0.93, Source: esab},
		{Process: FCAG, Variant: "flux-cored", Value: 0.90, Source: kobe},
		{Process: FCAG, Variant: "gas-shielded", Value: 0.86, Source: esab},
		{Process: FCAG, Variant: "tubular, trade page", Value: 0.80, Source: trade},
		{Process: FCAG, Variant: "flux-cored, hard-facing page", Value: 0.90, Source: postle},
		{Process: FCAS, Variant: "self-shielded", Value: 0.78, Source: esab},
		{Process: SMAW, Variant: "covered electrode", Value: 0.55, IncludesStub: true, Source: kobe},
		{Process: SMAW, Variant: "12 in electrode, 2 in stub", Value: 0.59, IncludesStub: true, Source: esab},
		{Process: SMAW, Variant: "14 in electrode, 2 in stub", Value: 0.62, IncludesStub: true, Source: esab},
		{Process: SMAW, Variant: "18 in electrode, 2 in stub", Value: 0.66, IncludesStub: true, Source: esab},
		{Process: SMAW, Variant: "stick, hard-facing page", Value: 0.65, Source: postle},
		{Process: SMAW, Variant: "stick, trade page", Value: 0.55, IncludesStub: true, Source: trade},
		{Process: SAW, Variant: "submerged arc", Value: 0.99, Source: esab},
	}
}()

// DefaultEfficiency returns the row used for a process when nothing else is
// said; false for a process that is not on file.
func DefaultEfficiency(p Process) (Efficiency, bool) {
	for _, e := range efficiencies {
		if e.Process == p {
			return e, true
		}
	}
	return Efficiency{}, false
}
