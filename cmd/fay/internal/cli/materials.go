package cli

import (
	"bytes"
	"strings"

	"github.com/spf13/cobra"

	"fay/config"
	"fay/joints/result"
)

// listOptions are what `fay materials` and `fay fillers` are told.
type listOptions struct{ format, table string }

func (a *app) materials() *cobra.Command {
	var o listOptions
	cmd := &cobra.Command{
		Use:     "materials",
		Short:   "List the base materials on file with their sources",
		Long:    "materials lists the base materials that a joint can name, your own among them, with\ntheir densities and where these were read. Numbers from memory say so.",
		Example: "  fay materials\n  fay materials --format csv",
		Args:    noArgs,
		RunE:    func(*cobra.Command, []string) error { return a.runMaterials(&o) },
	}
	formatFlag(cmd, &o.format)
	return cmd
}

// source is a source in JSON.
type source struct {
	Text       string            `json:"text"`
	Provenance config.Provenance `json:"provenance"`
}

func sourceOf(s config.Source) source { return source{s.Text, s.Provenance} }

// someSource is that of something that may be missing.
func someSource(s config.Source) *source {
	if s == (config.Source{}) {
		return nil
	}
	return new(sourceOf(s))
}

// materialEntry is a base material in JSON.
type materialEntry struct {
	Name           string              `json:"name"`
	Title          string              `json:"title,omitempty"`
	Aliases        []string            `json:"aliases"`
	Family         config.Family       `json:"family"`
	DensityGPerCm3 *float64            `json:"density_g_per_cm3,omitempty"`
	Source         source              `json:"source"`
	Class          config.ThermalClass `json:"thermal_class,omitempty"`
	ClassNote      string              `json:"thermal_note,omitempty"`
	HeatTreatable  bool                `json:"heat_treatable"`
	HighMagnesium  bool                `json:"high_magnesium"`
	FlagSource     *source             `json:"flag_source,omitempty"`
	Thermal        *thermalEntry       `json:"thermal,omitempty"` // absent where none are on file
}

// thermalEntry are thermal constants in JSON, means up to melting.
type thermalEntry struct {
	Conductivity float64 `json:"conductivity_w_per_m_k"`
	Density      float64 `json:"density_kg_per_m3"`
	HeatCapacity float64 `json:"heat_capacity_j_per_kg_k"`
	Solidus      float64 `json:"solidus_c"`
	Liquidus     float64 `json:"liquidus_c"`
	LatentHeat   float64 `json:"latent_heat_j_per_kg"`
	Source       source  `json:"source"`
}

type materialsResult struct {
	Schema    string          `json:"schema"`
	Materials []materialEntry `json:"materials"`
}

func (a *app) runMaterials(o *listOptions) error {
	form, err := parseFormat(o.format)
	if err != nil {
		return err
	}
	loaded, err := a.load()
	if err != nil {
		return err
	}
	t := table{heads: []string{"name", "family", "density, g/cm³", "heat treatable", "over 3 % Mg", "thermal class", "k, W/(m·K)", "c, J/(kg·K)", "solidus, °C", "liquidus, °C", "latent, kJ/kg", "thermal values", "source", "values", "also"}}
	res := materialsResult{Schema: "fay.materials/1", Materials: []materialEntry{}}
	catalogue := loaded.Settings.Catalogue()
	for _, m := range catalogue.Materials() {
		var thermal *thermalEntry
		cells := []string{"", "", "", "", "", ""}
		if x, ok := m.Thermal(); ok {
			thermal = &thermalEntry{x.Conductivity, x.Density, x.HeatCapacity, x.Solidus, x.Liquidus, x.LatentHeat, sourceOf(x.Source)}
			cells = []string{significant(x.Conductivity), significant(x.HeatCapacity), significant(x.Solidus), significant(x.Liquidus), significant(x.LatentHeat / 1e3), string(x.Source.Provenance)}
		}
		res.Materials = append(res.Materials, materialEntry{
			Name: m.Name, Title: m.Title, Aliases: append([]string{}, m.Aliases...), Family: m.Family, DensityGPerCm3: some(m.Density.GramsPerCubicCentimetre()),
			Source: sourceOf(m.Source), Class: m.Class, ClassNote: m.ClassNote, HeatTreatable: m.HeatTreatable, HighMagnesium: m.HighMagnesium,
			FlagSource: someSource(m.FlagSource), Thermal: thermal,
		})
		row := append([]string{m.Name, string(m.Family), densityText(m.Density), yes(m.HeatTreatable), yes(m.HighMagnesium), string(m.Class)}, cells...)
		t.add(append(row, m.Source.Text, string(m.Source.Provenance), strings.Join(m.Aliases, ", "))...)
	}
	return a.printList(form, &t, res)
}

func (a *app) printList(form format, t *table, res any) error {
	var out bytes.Buffer
	var err error
	switch form {
	case asJSON:
		err = result.WriteJSON(&out, res)
	case asCSV:
		err = t.csv(&out)
	default:
		t.in(form, &out)
	}
	if err != nil {
		return err
	}
	return a.print(out.Bytes())
}

func yes(v bool) string {
	if v {
		return "yes"
	}
	return ""
}

// some leaves out what is zero: not on file.
func some(v float64) *float64 {
	if v == 0 {
		return nil
	}
	return &v
}

func densityText(d config.Density) string {
	if !d.OnFile() {
		return "not on file"
	}
	return decimal(d.GramsPerCubicCentimetre(), 3)
}
