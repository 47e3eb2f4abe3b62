package heat

// Class says how hard a joint pulls the heat to one side.
type Class string

// The classes, fay's own choice: the demand index against that of the same
// joint of equal plates, below 1.25, up to 2, above.
const (
	Even   Class = "even"
	Favour Class = "favour"
	Strong Class = "strong"

	favourFrom = 1.25
	strongFrom = 2.
)

var classSource = Source{"classes even, favour, strong at 1.25 and 2 times the index of equal plates: fay's own choice, no published validation exists", OwnChoice}

// Index is the demand index: the net power the first member alone needs to be
// molten out to the leg, over that of the second.
type Index struct {
	Value float64
	Thin  float64 // its limit when all members behave as thin plates
	Thick float64 // its limit when all are thick
	Equal float64 // index of the same joint of equal plates of one metal
	Class Class
	// Favour is the member to aim at more than on equal plates; empty when even.
	Favour string
}

// MemberHeat is one of the two members the weld stands on.
type MemberHeat struct {
	Name      string
	Ways      int     // ways out that heat takes in it
	Thickness float64 // mm
	Power     float64 // W net that it needs alone, molten out to the leg
	AimShare  float64 // part of the arc to give it before the pool bridges
	// LongRun is the part of all heat finally found in it.
	LongRun   float64
	Start     float64 // °C before the arc
	FreeEdges []float64
	// Tau is Adams' relative thickness at three quarters of the liquidus for
	// the heat input of the root power, and Regime what it says.
	Tau    float64
	Regime Regime
}

// Root is the power that just melts the joint root.
type Root struct {
	Net float64 // W
	// Model is where finite elements put it, W net, for nine in ten of 240
	// checked joints: fillets of tees, laps and closed inner corners. Zero for
	// other joints, which were not checked; see [NewField] for those.
	Model Spread
	Arc   Spread  // W of the arc, over its efficiency
	Amps  Spread  // A at the voltage given or on the load line
	Volts float64 // V at the nominal current
	Start float64 // °C, where the members meet
	Melt  float64 // °C, the higher liquidus of the two
}

// Enough says whether a current or power suffices: over the whole range of
// efficiency, over part of it, or nowhere.
type Enough string

// The answers.
const (
	Yes     Enough = "yes"
	Perhaps Enough = "perhaps"
	No      Enough = "no"
)

// Given is what the arc that was set gives.
type Given struct {
	Amps, Volts float64
	Arc         float64 // W
	Net         Spread  // W, over the efficiency; Low is least
	Melts       Enough  // whether it melts the root
}

// PerLength is the heat input per length, of the arc set, or else of the power the root needs at
// nominal efficiency.
type PerLength struct {
	Of                   string  // "arc as set" or "power for the root"
	ArcJPerMM, ArcJPerIn float64 // arc energy, without efficiency (ASME IX QW-409.1, AWS)
	NetJPerMM, NetJPerIn float64 // with the nominal efficiency (as EN 1011-1 counts)
}

// Filler is what laying the metal takes.
type Filler struct {
	Power float64 // W to heat and melt the metal laid
	// Floor is the least net power that can melt metal laid and base metal
	// claimed, W: plates never melt with more than 48 % of the heat.
	Floor float64
}

// MostMelting is the largest part of the heat a moving arc can melt plate with,
// in two dimensions and without latent heat; own computation from Rosenthal.
const MostMelting = 0.484

// Preheat tells what preheat can and cannot do.
type Preheat struct {
	Heavy string // the member it would help
	// Ceiling of the heavy member; nil where none is on file.
	Ceiling *Ceiling
	// Index at the ceiling with only the heavy member heated, and the net root
	// power with both members there; 0 without a ceiling.
	IndexAtCeiling, PowerAtCeiling float64
	// Balance is the temperature of the heavy member that would bring the
	// index to that of equal plates, °C, and Within whether the ceiling lets
	// it; Needed is false when the joint is even.
	Needed  bool
	Balance float64
	Within  bool
	// Warnings where a preheat asked for is over its ceiling.
	Warnings []string
}

// WarmUp is how far the whole part warms while the seam is made.
type WarmUp struct {
	Rise  float64 // K, if all the net heat stays in the part
	Final float64 // °C
	Mass  float64 // kg
}

// Result is the closed-form answer.
type Result struct {
	Weld    string
	Wet     float64 // mm, the leg to be wetted
	Index   Index
	Members [2]MemberHeat
	Root    Root
	Machine Enough // whether the machine gives the current; empty when not known
	Given   *Given
	Heat    PerLength
	Filler  Filler
	T85     *T85 // steel only
	// CombinedThickness by EN 1011-2 C.2.4, mm, for hydrogen only.
	CombinedThickness float64
	Preheat           Preheat
	WarmUp            *WarmUp
	Lines             []string // the answer in a welder's words
	Cautions          []string
	Basis             []Basis
}
