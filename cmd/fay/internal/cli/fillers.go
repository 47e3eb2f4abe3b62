package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"fay/config"
	"fay/geometry"
	"fay/joints"
	"fay/joints/result"
)

func (a *app) fillers() *cobra.Command {
	var o listOptions
	cmd := &cobra.Command{
		Use:   "fillers",
		Short: "List fillers, rods, packs, processes and gas on file with their sources",
		Long: `fillers lists what a joint is filled from, your own entries among it: fillers with
their densities, rod sizes, packs and spools, deposition efficiencies, what is on
file of each process, travel speeds, cylinders, and your own prices. Every number
says where it was read; numbers from memory and common practice say so.`,
		Example: "  fay fillers\n  fay fillers --table packs\n  fay fillers --table speeds --format csv",
		Args:    noArgs,
		RunE:    func(*cobra.Command, []string) error { return a.runFillers(&o) },
	}
	formatFlag(cmd, &o.format)
	cmd.Flags().StringVar(&o.table, "table", "", "one `table` alone: "+strings.Join(fillerTables, ", "))
	// The flag was defined on the line above.
	_ = cmd.RegisterFlagCompletionFunc("table", cobra.FixedCompletions(fillerTables, cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

// fillerTables are the tables by name, in print order.
var fillerTables = []string{"fillers", "rods", "packs", "efficiencies", "processes", "speeds", "cylinders", "prices"}

// The tables in JSON.
type (
	fillerEntry struct {
		Name           string        `json:"name"`
		Title          string        `json:"title,omitempty"`
		Aliases        []string      `json:"aliases"`
		Family         config.Family `json:"family"`
		DensityGPerCm3 *float64      `json:"density_g_per_cm3,omitempty"`
		Spread         *float64      `json:"density_spread,omitempty"` // as a fraction
		Printed        string        `json:"printed,omitempty"`
		Source         source        `json:"source"`
		Note           string        `json:"note,omitempty"`
	}
	sizeEntry struct {
		Label  string  `json:"label"`
		MM     float64 `json:"mm"`
		Of     string  `json:"of"` // diameter, length
		Source source  `json:"source"`
	}
	packEntry struct {
		Label  string        `json:"label"`
		Kg     float64       `json:"kg"`
		Form   string        `json:"form"` // rods, wire
		Family config.Family `json:"family,omitempty"`
		Source source        `json:"source"`
	}
	efficiencyEntry struct {
		Process      config.Process `json:"process"`
		Variant      string         `json:"variant"`
		Efficiency   float64        `json:"efficiency"`
		IncludesStub bool           `json:"includes_stub"`
		Source       source         `json:"source"`
	}
	processEntry struct {
		Process              config.Process `json:"process"`
		PassAreaMM2          *float64       `json:"pass_area_mm2,omitempty"`
		PassSource           *source        `json:"pass_source,omitempty"`
		GasFlowLPerMin       *float64       `json:"gas_flow_l_per_min,omitempty"`
		GasSource            *source        `json:"gas_source,omitempty"`
		TravelSpeedMMPerMin  *float64       `json:"travel_speed_mm_per_min,omitempty"`
		SpeedSource          *source        `json:"speed_source,omitempty"`
		DepositionRateKgPerH *float64       `json:"deposition_rate_kg_per_h,omitempty"`
		RateSource           *source        `json:"rate_source,omitempty"`
	}
	speedEntry struct {
		Process             config.Process `json:"process"`
		Family              config.Family  `json:"family,omitempty"`
		ThicknessMM         *float64       `json:"thickness_mm,omitempty"`
		TravelSpeedMMPerMin *float64       `json:"travel_speed_mm_per_min,omitempty"`
		Source              *source        `json:"source,omitempty"`
		Amps                *[2]float64    `json:"amps,omitempty"`
		AmpsSource          *source        `json:"amps_source,omitempty"`
		For                 string         `json:"for"`
	}
	cylinderEntry struct {
		Label  string  `json:"label"`
		M3     float64 `json:"m3"`
		Source source  `json:"source"`
	}
	priceEntry struct {
		Filler     string   `json:"filler"`
		DiameterMM *float64 `json:"diameter_mm,omitempty"`
		PackKg     float64  `json:"pack_kg"`
		Price      float64  `json:"price"`
		Currency   string   `json:"currency"`
		Source     source   `json:"source"`
	}
)

// fillersResult is the JSON of `fay fillers`; a table that was not asked for
// has no key.
type fillersResult struct {
	Schema       string            `json:"schema"`
	Fillers      []fillerEntry     `json:"fillers,omitzero"`
	Rods         []sizeEntry       `json:"rods,omitzero"`
	Packs        []packEntry       `json:"packs,omitzero"`
	Efficiencies []efficiencyEntry `json:"efficiencies,omitzero"`
	Processes    []processEntry    `json:"processes,omitzero"`
	Speeds       []speedEntry      `json:"speeds,omitzero"`
	Cylinders    []cylinderEntry   `json:"cylinders,omitzero"`
	Prices       []priceEntry      `json:"prices,omitzero"`
}

func (a *app) runFillers(o *listOptions) error {
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	names := fillerTables
	switch {
	case o.table != "":
		if !slices.Contains(fillerTables, o.table) {
			hint := "the tables are " + strings.Join(fillerTables, ", ")
			if near := joints.Nearest(o.table, fillerTables); near != "" && len(o.table) < 20 {
				hint = "did you mean " + near + "? " + hint
			}
			return usage(fmt.Sprintf("--table %q: is not a table", o.table), hint)
		}
		names = []string{o.table}
	case form == asCSV:
		names = names[:1] // one table a file
	}
	loaded, err := a.load()
	if err != nil {
		return err
	}
	s := &loaded.Settings
	res := fillersResult{Schema: "fay.fillers/1"}
	var out bytes.Buffer
	for i, name := range names {
		t := res.fill(name, s)
		switch form {
		case asCSV:
			if err := t.csv(&out); err != nil {
				return err
			}
		case asJSON:
		default:
			if len(names) > 1 {
				if i == 0 && form == asText {
					printf(&out, "%s\n", name)
				} else {
					heading(&out, form, name)
				}
			}
			t.in(form, &out)
		}
	}
	if form == asJSON {
		if err := result.WriteJSON(&out, res); err != nil {
			return err
		}
	}
	return a.print(out.Bytes())
}

// fill adds one table to the result and returns it for print.
func (r *fillersResult) fill(name string, s *config.Settings) *table {
	switch name {
	case "fillers":
		return r.fillers(s)
	case "rods":
		return r.rods()
	case "packs":
		return r.packs()
	case "efficiencies":
		return r.efficiencies()
	case "processes":
		return r.processes(s)
	case "speeds":
		return r.speeds()
	case "cylinders":
		return r.cylinders()
	}
	return r.prices(s)
}

func (r *fillersResult) fillers(s *config.Settings) *table {
	t := &table{heads: []string{"name", "family", "density, g/cm³", "printed", "source", "values", "also", "note"}}
	r.Fillers = []fillerEntry{}
	catalogue := s.Catalogue()
	for _, f := range catalogue.Fillers() {
		r.Fillers = append(r.Fillers, fillerEntry{
			Name: f.Name, Title: f.Title, Aliases: append([]string{}, f.Aliases...), Family: f.Family,
			DensityGPerCm3: some(f.Density.GramsPerCubicCentimetre()), Spread: some(f.Spread), Printed: f.Printed, Source: sourceOf(f.Source), Note: f.Note,
		})
		t.add(f.Name, string(f.Family), densityText(f.Density), f.Printed, f.Source.Text, string(f.Source.Provenance), strings.Join(f.Aliases, ", "), f.Note)
	}
	return t
}

func (r *fillersResult) rods() *table {
	t := &table{heads: []string{"size", "mm", "of", "source", "values"}}
	r.Rods = []sizeEntry{}
	add := func(label, of string, l geometry.Length, s config.Source) {
		r.Rods = append(r.Rods, sizeEntry{label, l.Millimetres(), of, sourceOf(s)})
		t.add(label, decimal(l.Millimetres(), 4), of, s.Text, string(s.Provenance))
	}
	for _, d := range config.RodSizes() {
		add(d.Label, "diameter", d.Diameter, d.Source)
	}
	for _, l := range config.RodLengths() {
		add(l.Label, "length", l.Length, l.Source)
	}
	return t
}

func (r *fillersResult) packs() *table {
	t := &table{heads: []string{"pack", "kg", "form", "metal", "source", "values"}}
	r.Packs = []packEntry{}
	for _, p := range config.Packs() {
		e := packEntry{Label: p.Label, Kg: p.Mass, Form: "rods", Family: p.Family, Source: sourceOf(p.Source)}
		if p.Spool {
			e.Form = "wire"
		}
		r.Packs = append(r.Packs, e)
		t.add(e.Label, decimal(e.Kg, 3), e.Form, string(e.Family), p.Source.Text, string(p.Source.Provenance))
	}
	return t
}

func (r *fillersResult) efficiencies() *table {
	t := &table{heads: []string{"process", "variant", "efficiency", "stubs counted", "source", "values"}}
	r.Efficiencies = []efficiencyEntry{}
	for _, e := range config.Efficiencies() {
		r.Efficiencies = append(r.Efficiencies, efficiencyEntry{e.Process, e.Variant, e.Value, e.IncludesStub, sourceOf(e.Source)})
		t.add(string(e.Process), e.Variant, decimal(e.Value, 3), yes(e.IncludesStub), e.Source.Text, string(e.Source.Provenance))
	}
	return t
}

// cited prints a number with its source; blank where it is not on file.
func cited(v float64, s config.Source) (value, from string) {
	if v == 0 {
		return "", ""
	}
	return significant(v), s.String()
}

func (r *fillersResult) processes(s *config.Settings) *table {
	t := &table{heads: []string{"process", "largest pass, mm²", "source", "gas, L/min", "source", "speed, mm/min", "source", "rate, kg/h", "source"}}
	r.Processes = []processEntry{}
	of := func(v float64, s config.Source) *source {
		if v == 0 {
			return nil
		}
		return someSource(s)
	}
	for _, p := range s.Practices() {
		r.Processes = append(r.Processes, processEntry{
			Process: p.Process, PassAreaMM2: some(p.PassArea), PassSource: of(p.PassArea, p.PassSource), GasFlowLPerMin: some(p.Flow), GasSource: of(p.Flow, p.FlowSource),
			TravelSpeedMMPerMin: some(p.Speed), SpeedSource: of(p.Speed, p.SpeedSource), DepositionRateKgPerH: some(p.Rate), RateSource: of(p.Rate, p.RateSource),
		})
		pass, passFrom := cited(p.PassArea, p.PassSource)
		flow, flowFrom := cited(p.Flow, p.FlowSource)
		speed, speedFrom := cited(p.Speed, p.SpeedSource)
		rate, rateFrom := cited(p.Rate, p.RateSource)
		t.add(string(p.Process), pass, passFrom, flow, flowFrom, speed, speedFrom, rate, rateFrom)
	}
	return t
}

func (r *fillersResult) speeds() *table {
	t := &table{heads: []string{"process", "metal", "thickness, mm", "speed, mm/min", "source", "values", "amps", "source of amps", "for"}}
	r.Speeds = []speedEntry{}
	for _, v := range config.TravelSpeeds() {
		e := speedEntry{Process: v.Process, Family: v.Family, ThicknessMM: some(v.Thickness.Millimetres()), TravelSpeedMMPerMin: some(v.Speed), Source: someSource(v.Source), For: v.Description}
		amps, from := "", ""
		if v.Amps != [2]float64{} {
			e.Amps, e.AmpsSource = &v.Amps, someSource(v.AmpsSource)
			amps, from = decimal(v.Amps[0], 0)+" to "+decimal(v.Amps[1], 0), v.AmpsSource.String()
		}
		r.Speeds = append(r.Speeds, e)
		thickness := ""
		if v.Thickness > 0 {
			thickness = decimal(v.Thickness.Millimetres(), 2)
		}
		t.add(string(v.Process), string(v.Family), thickness, listedSpeed(v.Speed), v.Source.Text, string(v.Source.Provenance), amps, from, v.Description)
	}
	return t
}

func listedSpeed(v float64) string {
	if v == 0 {
		return ""
	}
	return decimal(v, 0)
}

func (r *fillersResult) cylinders() *table {
	t := &table{heads: []string{"cylinder", "m³ of gas", "source", "values"}}
	r.Cylinders = []cylinderEntry{}
	for _, c := range config.Cylinders() {
		r.Cylinders = append(r.Cylinders, cylinderEntry{c.Label, c.Volume, sourceOf(c.Source)})
		t.add(c.Label, decimal(c.Volume, 3), c.Source.Text, string(c.Source.Provenance))
	}
	return t
}

func (r *fillersResult) prices(s *config.Settings) *table {
	t := &table{heads: []string{"filler", "diameter, mm", "pack, kg", "price", "per kg", "currency", "source"}}
	r.Prices = []priceEntry{}
	for _, p := range s.Prices {
		r.Prices = append(r.Prices, priceEntry{p.Filler, some(p.Diameter.Millimetres()), p.Pack, p.Amount, s.Costs.Currency, sourceOf(p.Source)})
		diameter := "any"
		if p.Diameter > 0 {
			diameter = decimal(p.Diameter.Millimetres(), 4)
		}
		t.add(p.Filler, diameter, significant(p.Pack), significant(p.Amount), significant(p.PerKilogram()), s.Costs.Currency, p.Source.Text)
	}
	return t
}
