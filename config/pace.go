package config

import (
	"math"
	"slices"

	"fay/geometry"
)

// Practice is what is known of a process besides its efficiency: what one pass
// lays, how much gas it takes, what it deposits. Zero is not on file.
type Practice struct {
	Process    Process
	PassArea   float64 // most that one pass lays, mm²
	PassSource Source
	Flow       float64 // shielding gas, L/min; 0 for a process without
	FlowSource Source
	Rate       float64 // deposited, kg/h
	RateSource Source
	// Speed of the shop itself, mm/min; 0 takes that of TravelSpeeds.
	Speed       float64
	SpeedSource Source
	// OwnEfficiency is the share deposited that the shop measured; 0 takes
	// that of Efficiencies.
	OwnEfficiency    float64
	EfficiencySource Source
}

// noSource marks what the trade does and no document says.
const noSource = "common practice, no source"

func practice() Source { return Source{Text: noSource, Provenance: CommonPractice} }

// The areas of flat fillets that are laid in one pass: leg 6 mm by TIG, 8 mm
// (5/16 in) by the others.
const (
	tigPass  = 18
	arcPass  = 32
	sawnPass = 100 // submerged arc
)

// practices is the table of processes. Deposition rates depend on amps and wire
// so much that none is on file.
var practices = []Practice{
	{Process: GTAW, PassArea: tigPass, PassSource: practice(), Flow: 10, FlowSource: fromMemory()},
	{Process: GMAW, PassArea: arcPass, PassSource: practice(), Flow: 15, FlowSource: fromMemory()},
	{Process: MCAW, PassArea: arcPass, PassSource: practice(), Flow: 18, FlowSource: fromMemory()},
	{Process: FCAG, PassArea: arcPass, PassSource: practice(), Flow: 18, FlowSource: fromMemory()},
	{Process: FCAS, PassArea: arcPass, PassSource: practice()},
	{Process: SMAW, PassArea: arcPass, PassSource: practice()},
	{Process: SAW, PassArea: sawnPass, PassSource: practice()},
}

// Practices lists the processes in print order, the shop's own numbers over
// those on file.
func (s Settings) Practices() []Practice {
	list := slices.Clone(practices)
	for i := range list {
		list[i].take(s.OwnPractices)
	}
	return list
}

// take puts a shop's own numbers of the process over those on file.
func (p *Practice) take(all []Practice) {
	for i := range all {
		own := &all[i]
		if p.Process != own.Process {
			continue
		}
		if own.PassArea > 0 {
			p.PassArea, p.PassSource = own.PassArea, own.PassSource
		}
		if own.Flow > 0 {
			p.Flow, p.FlowSource = own.Flow, own.FlowSource
		}
		if own.Rate > 0 {
			p.Rate, p.RateSource = own.Rate, own.RateSource
		}
		if own.Speed > 0 {
			p.Speed, p.SpeedSource = own.Speed, own.SpeedSource
		}
		if own.OwnEfficiency > 0 {
			p.OwnEfficiency, p.EfficiencySource = own.OwnEfficiency, own.EfficiencySource
		}
	}
}

// Practice returns what is known of a process.
func (s Settings) Practice(p Process) Practice {
	for i := range practices {
		if practices[i].Process == p {
			row := practices[i]
			row.take(s.OwnPractices)
			return row
		}
	}
	return Practice{Process: p}
}

// TravelSpeed is how fast a pass is laid. Zero fields are not on file, an
// empty family and a zero thickness stand for any.
type TravelSpeed struct {
	Process   Process
	Family    Family
	Thickness geometry.Length
	Speed     float64 // mm/min
	// Amps from and to, as printed; both 0 where none are on file.
	Amps        [2]float64
	Source      Source
	AmpsSource  Source
	Description string // what the row is printed for
}

// TravelSpeeds lists the speeds and amps on file, each at the thickness it is
// printed for.
func TravelSpeeds() []TravelSpeed { return slices.Clone(travelSpeeds) }

var travelSpeeds = func() []TravelSpeed {
	// Read as the text of a figure: which speed belongs to which thickness was
	// partly inferred.
	mathers := Source{Text: "G. Mathers, The Welding of Aluminium and its Alloys, 2002, Fig. 6.8, page 119; pairing partly inferred", Provenance: Secondary}
	mig := Source{Text: "G. Mathers, The Welding of Aluminium and its Alloys, 2002, page 138; 600 to 700 mm/min, the middle taken", Provenance: Primary}
	amps := Source{Text: "Air Products, welder's handbook, page 41 (paperturn-view.com/uk/air-products)", Provenance: Secondary}
	const fillet = "TIG fillet"
	tig := func(f Family, t geometry.Length, speed float64, s Source, lo, hi float64) TravelSpeed {
		row := TravelSpeed{Process: GTAW, Family: f, Thickness: t, Speed: speed, Source: s, Description: fillet}
		if hi > 0 {
			row.Amps, row.AmpsSource = [2]float64{lo, hi}, amps
		}
		return row
	}
	memory := fromMemory()
	return []TravelSpeed{
		tig(Aluminium, 1.6, 190, mathers, 60, 80),
		tig(Aluminium, 2.0, 200, mathers, 0, 0),
		tig(Aluminium, 3.2, 230, mathers, 125, 145),
		tig(Aluminium, 4.8, 280, mathers, 195, 230),
		tig(Aluminium, 6.0, 0, Source{}, 260, 295),
		tig(Aluminium, 6.4, 200, mathers, 0, 0),
		tig(Aluminium, 8, 150, mathers, 0, 0),
		tig(Aluminium, 9.5, 150, mathers, 0, 0),
		tig(Stainless, 1.6, 100, memory, 50, 70),
		tig(Stainless, 3.2, 100, memory, 85, 105),
		tig(Stainless, 4.8, 100, memory, 120, 145),
		tig(Stainless, 6.0, 100, memory, 165, 180),
		tig(Steel, 1.6, 100, memory, 50, 70),
		tig(Steel, 3.2, 100, memory, 90, 120),
		tig(Steel, 4.8, 100, memory, 135, 175),
		tig(Steel, 6.0, 100, memory, 170, 200),
		{Process: GTAW, Speed: 100, Source: memory, Description: "TIG by hand"},
		{Process: GMAW, Family: Aluminium, Speed: 650, Source: mig, Description: "MIG fillet, leg 3 to 4 mm"},
		{Process: GMAW, Speed: 400, Source: memory, Description: "MAG by hand"},
		{Process: MCAW, Speed: 400, Source: memory, Description: "by hand"},
		{Process: FCAG, Speed: 350, Source: memory, Description: "by hand"},
		{Process: FCAS, Speed: 300, Source: memory, Description: "by hand"},
		{Process: SMAW, Speed: 200, Source: memory, Description: "by hand"},
		{Process: SAW, Speed: 600, Source: memory, Description: "mechanised"},
	}
}()

// SpeedFor returns the row for a process, a metal and the thickness of the
// thinner member: that of the nearest thickness, else that of any metal. False
// where none is on file.
func SpeedFor(p Process, f Family, thickness geometry.Length) (TravelSpeed, bool) {
	best, off, found := TravelSpeed{}, math.Inf(1), false
	for i := range travelSpeeds {
		row := &travelSpeeds[i]
		if row.Process != p || row.Speed == 0 || (row.Family != "" && row.Family != f) {
			continue
		}
		d := math.Abs(float64(row.Thickness - thickness))
		if row.Thickness == 0 {
			d = math.MaxFloat64 // any of its own metal beats none
		}
		if row.Family == "" {
			if found {
				continue
			}
			d = math.Inf(1)
		}
		if !found || d < off {
			best, off, found = *row, d, true
		}
	}
	return best, found
}
