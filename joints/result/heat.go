package result

import (
	"fay/joints/heat"
)

// Heat is what unequal plates do to the heat of one weld. Powers are W, net
// where they reach the work and of the arc otherwise; temperatures °C.
type Heat struct {
	Weld    string        `json:"weld"`
	Words   []string      `json:"words"` // the answer in a welder's words
	Arc     HeatArc       `json:"arc"`
	Members [2]HeatMember `json:"members"`
	Index   HeatIndex     `json:"index"`
	Root    HeatRoot      `json:"root"`
	Machine heat.Enough   `json:"machine_enough,omitempty"`
	Given   *HeatGiven    `json:"given,omitempty"` // absent where no current was set
	Input   HeatPerLength `json:"heat_input"`
	Filler  HeatFiller    `json:"filler"`
	T85     *HeatT85      `json:"t85,omitempty"` // steel alone
	Preheat HeatPreheat   `json:"preheat"`
	WarmUp  *HeatWarmUp   `json:"warm_up,omitempty"`
	Field   *HeatField    `json:"field,omitempty"` // absent where it was not computed
	Sources []HeatSource  `json:"sources"`
	// CombinedThicknessMM by EN 1011-2 C.2.4, for hydrogen only.
	CombinedThicknessMM float64 `json:"combined_thickness_mm"`
}

// HeatArc is the arc as taken.
type HeatArc struct {
	Process       heat.Process `json:"process,omitempty"`
	CurrentA      *float64     `json:"current_a,omitempty"`
	VoltageV      *float64     `json:"voltage_v,omitempty"`
	MachineA      *float64     `json:"machine_a,omitempty"`
	SpeedMMPerS   float64      `json:"speed_mm_per_s"`
	SpotMM        float64      `json:"spot_mm"`
	Efficiency    float64      `json:"efficiency"`
	EfficiencyLow float64      `json:"efficiency_low"`
	EfficiencyTop float64      `json:"efficiency_high"`
}

// HeatSpread is a number with its range.
type HeatSpread struct {
	Low     float64 `json:"low"`
	Nominal float64 `json:"nominal"`
	High    float64 `json:"high"`
}

// HeatMember is one of the two members the weld stands on.
type HeatMember struct {
	Name         string      `json:"name"`
	Metal        string      `json:"metal"`
	ThicknessMM  float64     `json:"thickness_mm"`
	Ways         int         `json:"ways"`
	StartC       float64     `json:"start_c"`
	AlonePowerW  float64     `json:"alone_power_w"`
	AimShare     float64     `json:"aim_share"`
	LongRunShare float64     `json:"long_run_share"`
	FreeEdgesMM  []float64   `json:"free_edges_mm,omitzero"`
	Tau          float64     `json:"relative_thickness"`
	Regime       heat.Regime `json:"regime"`
}

// HeatIndex is the demand index of the first member over the second.
type HeatIndex struct {
	Value  float64    `json:"value"`
	Thin   *float64   `json:"thin,omitempty"`
	Thick  float64    `json:"thick"`
	Equal  float64    `json:"equal"`
	Class  heat.Class `json:"class"`
	Favour string     `json:"favour,omitempty"`
}

// HeatRoot is the power that just melts the root.
type HeatRoot struct {
	NetW     float64     `json:"net_w"`
	ModelW   *HeatSpread `json:"model_w,omitempty"` // absent for joints that were not checked
	ArcW     HeatSpread  `json:"arc_w"`
	CurrentA HeatSpread  `json:"current_a"`
	VoltageV float64     `json:"voltage_v"`
	StartC   float64     `json:"start_c"`
	MeltC    float64     `json:"melt_c"`
}

// HeatGiven is what the arc as set gives.
type HeatGiven struct {
	CurrentA float64     `json:"current_a"`
	VoltageV float64     `json:"voltage_v"`
	ArcW     float64     `json:"arc_w"`
	NetW     HeatSpread  `json:"net_w"`
	Melts    heat.Enough `json:"melts_root"`
}

// HeatPerLength is the heat input, with and without the efficiency.
type HeatPerLength struct {
	Of        string  `json:"of"`
	ArcJPerMM float64 `json:"arc_j_per_mm"`
	ArcJPerIn float64 `json:"arc_j_per_in"`
	NetJPerMM float64 `json:"net_j_per_mm"`
	NetJPerIn float64 `json:"net_j_per_in"`
}

// HeatFiller is what laying the metal takes.
type HeatFiller struct {
	PowerW float64 `json:"power_w"`
	FloorW float64 `json:"floor_w"`
}

// HeatT85 is the cooling time from 800 to 500 °C by EN 1011-2.
type HeatT85 struct {
	Seconds      float64 `json:"seconds_s"`
	TwoDS        float64 `json:"two_d_s"`
	ThreeDS      float64 `json:"three_d_s"`
	Regime       string  `json:"regime"`
	F2           float64 `json:"f2"`
	F3           float64 `json:"f3"`
	ReferenceMM  float64 `json:"reference_thickness_mm"`
	TransitionMM float64 `json:"transition_thickness_mm"`
	// ScaledS follows the joint between thin and thick; absent where the model
	// is not good enough for it.
	ScaledS *float64 `json:"scaled_s,omitempty"`
}

// HeatPreheat is what preheat can do.
type HeatPreheat struct {
	Heavy           string   `json:"heavy"`
	Needed          bool     `json:"needed"`
	BalanceC        float64  `json:"balance_c"`
	Within          *bool    `json:"within_ceiling,omitempty"`
	CeilingC        *float64 `json:"ceiling_c,omitempty"` // absent where none is on file
	InterpassC      *float64 `json:"interpass_ceiling_c,omitempty"`
	IndexAtCeiling  *float64 `json:"index_at_ceiling,omitempty"`
	PowerAtCeilingW *float64 `json:"root_power_at_ceiling_w,omitempty"`
	Notes           []string `json:"notes,omitzero"`
	Warnings        []string `json:"warnings,omitzero"`
}

// HeatWarmUp is how far the whole part warms.
type HeatWarmUp struct {
	RiseK  float64 `json:"rise_k"`
	FinalC float64 `json:"final_c"`
	MassKg float64 `json:"mass_kg"`
}

// HeatSource names a source and what it is the source of.
type HeatSource struct {
	What       string          `json:"what"`
	Text       string          `json:"text"`
	Provenance heat.Provenance `json:"provenance"`
}

// HeatField is the conduction in the section.
type HeatField struct {
	Nodes     int            `json:"nodes"`
	Window    HeatWindow     `json:"window"`
	Balance   *HeatAim       `json:"balanced_aim,omitempty"` // absent where no aim balances the toes
	PowerW    float64        `json:"power_w"`                // net, of what follows
	Points    []HeatPoint    `json:"points"`
	Melted    []HeatMelted   `json:"melted"`
	Isotherms []HeatIsotherm `json:"isotherms"`
}

// HeatWindow is the range of net power with the root fused and no edge lost.
type HeatWindow struct {
	RootW  float64  `json:"root_w"`
	ToesW  float64  `json:"toes_w"`
	EdgeW  *float64 `json:"edge_w,omitempty"` // absent where no edge is near
	Lost   string   `json:"lost,omitempty"`
	Empty  bool     `json:"empty"`
	Cold   bool     `json:"cold_toe"`
	Advice []string `json:"advice,omitzero"`
}

// HeatAim is the aim at which both toes melt at the same power.
type HeatAim struct {
	// Percent of the face from the second member's toe to the first's.
	Percent float64 `json:"aim_percent"`
	AtMM    Point   `json:"at_mm"`
	RootW   float64 `json:"root_w"`
	ToesW   float64 `json:"toes_w"`
}

// HeatPoint is a watched place.
type HeatPoint struct {
	Name   string         `json:"name"`
	Kind   heat.PointKind `json:"kind"`
	Member string         `json:"member"`
	AtMM   Point          `json:"at_mm"`
	PeakC  float64        `json:"peak_c"`
	State  heat.State     `json:"state"`
	MeltsW float64        `json:"melts_w"`
}

// HeatMelted is the area that was liquid, good to 20 % at best.
type HeatMelted struct {
	Name    string  `json:"name"`
	AreaMM2 float64 `json:"area_mm2"`
}

// HeatIsotherm is how far a peak temperature reached along each member from its
// toe; the lines are for drawings.
type HeatIsotherm struct {
	LevelC  float64    `json:"level_c"`
	ReachMM [2]float64 `json:"reach_mm"`
	Beyond  bool       `json:"beyond_mesh"`
}

// NewHeat puts the answer into the contract; the field may be nil.
func NewHeat(in *heat.Input, r *heat.Result, f *HeatField) *Heat {
	a := &in.Arc
	h := &Heat{
		Weld: r.Weld, Words: r.Lines,
		Arc: HeatArc{
			Process: a.Process, CurrentA: given(a.Amps), VoltageV: given(a.Volts), MachineA: given(a.Machine), SpeedMMPerS: a.Speed,
			SpotMM: float64(a.Spot), Efficiency: a.Efficiency.Nominal, EfficiencyLow: a.Efficiency.Low, EfficiencyTop: a.Efficiency.High,
		},
		Index: HeatIndex{Value: r.Index.Value, Thin: given(r.Index.Thin), Thick: r.Index.Thick, Equal: r.Index.Equal, Class: r.Index.Class, Favour: r.Index.Favour},
		Root: HeatRoot{NetW: r.Root.Net, ArcW: HeatSpread(r.Root.Arc), CurrentA: HeatSpread(r.Root.Amps), VoltageV: r.Root.Volts,
			StartC: r.Root.Start, MeltC: r.Root.Melt},
		Machine:             r.Machine,
		Input:               HeatPerLength(r.Heat),
		Filler:              HeatFiller{PowerW: r.Filler.Power, FloorW: r.Filler.Floor},
		CombinedThicknessMM: r.CombinedThickness,
		Field:               f,
		Sources:             make([]HeatSource, 0, len(r.Basis)),
	}
	if r.Root.Model != (heat.Spread{}) {
		h.Root.ModelW = new(HeatSpread(r.Root.Model))
	}
	for i := range r.Members {
		m := &r.Members[i]
		h.Members[i] = HeatMember{Name: m.Name, Metal: metalOf(in, m.Name), ThicknessMM: m.Thickness, Ways: m.Ways, StartC: m.Start,
			AlonePowerW: m.Power, AimShare: m.AimShare, LongRunShare: m.LongRun, FreeEdgesMM: m.FreeEdges, Tau: m.Tau, Regime: m.Regime}
	}
	if g := r.Given; g != nil {
		h.Given = &HeatGiven{CurrentA: g.Amps, VoltageV: g.Volts, ArcW: g.Arc, NetW: HeatSpread(g.Net), Melts: g.Melts}
	}
	if t := r.T85; t != nil {
		h.T85 = &HeatT85{Seconds: t.Seconds, TwoDS: t.TwoD, ThreeDS: t.ThreeD, Regime: t.Regime, F2: t.F2, F3: t.F3,
			ReferenceMM: t.Thickness, TransitionMM: t.Transition, ScaledS: given(t.Scaled)}
	}
	p := &r.Preheat
	h.Preheat = HeatPreheat{Heavy: p.Heavy, Needed: p.Needed, BalanceC: p.Balance, Warnings: p.Warnings}
	if c := p.Ceiling; c != nil {
		h.Preheat.CeilingC, h.Preheat.InterpassC, h.Preheat.Within = &c.Preheat, &c.Interpass, &p.Within
		h.Preheat.IndexAtCeiling, h.Preheat.PowerAtCeilingW, h.Preheat.Notes = &p.IndexAtCeiling, &p.PowerAtCeiling, c.Notes
	}
	if w := r.WarmUp; w != nil {
		h.WarmUp = &HeatWarmUp{RiseK: w.Rise, FinalC: w.Final, MassKg: w.Mass}
	}
	for _, b := range r.Basis {
		h.Sources = append(h.Sources, HeatSource{b.What, b.Source.Text, b.Source.Provenance})
	}
	return h
}

// NewHeatField puts the field at one power, and the aim that balances it, into
// the contract.
func NewHeatField(f *heat.Field, p *heat.Picture, aim heat.Aim) *HeatField {
	w := &f.Window
	out := &HeatField{
		Nodes: f.Nodes(), PowerW: p.Power,
		Window: HeatWindow{RootW: w.Root, ToesW: w.Toes, EdgeW: given(w.Edge), Lost: w.Lost, Empty: w.Empty, Cold: w.Cold, Advice: w.Advice},
		Points: make([]HeatPoint, 0, len(p.Points)), Melted: make([]HeatMelted, 0, len(p.Melted)), Isotherms: make([]HeatIsotherm, 0, len(p.Isotherms)),
	}
	if aim.Found {
		out.Balance = &HeatAim{Percent: 100 * (aim.Shift + 0.5), AtMM: point(aim.At), RootW: aim.Root, ToesW: max(aim.Toes[0], aim.Toes[1])}
	}
	for i := range p.Points {
		x := &p.Points[i]
		out.Points = append(out.Points, HeatPoint{x.Name, x.Kind, x.Member, point(x.At), x.Peak, x.State, f.Points[i].Power})
	}
	for _, m := range p.Melted {
		out.Melted = append(out.Melted, HeatMelted{m.Name, m.Area})
	}
	for i := range p.Isotherms {
		iso := &p.Isotherms[i]
		out.Isotherms = append(out.Isotherms, HeatIsotherm{iso.Level, iso.Reach, iso.Beyond})
	}
	return out
}

func metalOf(in *heat.Input, member string) string {
	for i := range in.Section.Members {
		if in.Section.Members[i].Name == member {
			return in.Members[i].Material.Name
		}
	}
	return ""
}

// given leaves out what is zero: not given, or not there.
func given(v float64) *float64 {
	if v == 0 {
		return nil
	}
	return &v
}
