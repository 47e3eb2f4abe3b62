package cli

import (
	"fmt"
	"slices"
	"strings"

	"fay/joints"
	"fay/joints/compare"
	"fay/joints/filler"
	"fay/joints/heat"
	"fay/joints/result"
)

// sayings are sentences in the order they come up, with the alternatives that
// each is said of.
type sayings struct {
	texts []string
	names map[string][]string
}

func (s *sayings) add(name, text string) {
	if s.names == nil {
		s.names = map[string][]string{}
	}
	if s.names[text] == nil {
		s.texts = append(s.texts, text)
	}
	if !slices.Contains(s.names[text], name) {
		s.names[text] = append(s.names[text], name)
	}
}

// lines prints them; what is not said of all names whom it is said of.
func (s *sayings) lines(all int) []string {
	out := make([]string, 0, len(s.texts))
	for _, text := range s.texts {
		if names := s.names[text]; len(names) < all {
			text = strings.Join(names, ", ") + ": " + text
		}
		out = append(out, text)
	}
	return out
}

// made counts the alternatives that can be made.
func made(c *compare.Comparison) int {
	n := 0
	for i := range c.Rows {
		if c.Rows[i].Values != nil {
			n++
		}
	}
	return n
}

// cautions go with every comparison: those of the joints and that distortion
// is an estimate.
func (s *set) cautions(c *compare.Comparison) []string {
	return append(append(jointCautions(c), distortionCaution), s.heat.lines(s.heated)...)
}

// jointCautions are those of the joints alone.
func jointCautions(c *compare.Comparison) []string {
	var of sayings
	for i := range c.Rows {
		if r := &c.Rows[i]; r.Section != nil {
			for _, text := range result.Cautions(r.Section, nil) {
				of.add(r.Name, text)
			}
		}
	}
	return of.lines(made(c))
}

const distortionCaution = "Shrinkage and distortion are rules of thumb from memory: good for ranking, not for a number to work to."

// remembered reports whether a metric of some row hangs on a number from
// memory.
func remembered(c *compare.Comparison, m compare.Metric) bool {
	return slices.ContainsFunc(c.Rows, func(r compare.Row) bool { return slices.Contains(r.FromMemory, m) })
}

// The marks of headings whose numbers hang on one that is remembered; columns of
// a drawing are narrow.
const (
	memoryMark = "[memory]"
	drawnMark  = "*"
	memoryNote = "a number behind it is remembered and unverified"
)

// metricHead is the title of a metric with its unit and, where a number behind
// it is remembered, the mark of that.
func metricHead(m compare.Metric, c *compare.Comparison, mark string) string {
	head := metricTitle(m, c)
	if unit := metricUnit(m, c); unit != "" {
		head += ", " + unit
	}
	if remembered(c, m) {
		head += " " + mark
	}
	return head
}

// takenLines say what mass, time and gas are reckoned from, and where each
// number is from.
func (s *set) takenLines(c *compare.Comparison) []string {
	var of sayings
	q := s.quantities()
	for i := range c.Rows {
		r := &c.Rows[i]
		for k := range r.Taken {
			of.add(r.Name, takenText(q, &r.Taken[k]))
		}
	}
	return of.lines(made(c))
}

func takenText(q quantities, t *filler.Taken) string {
	amount := q.amount(&t.Value, t.Unit)
	if t.Name == filler.TakenRod || t.Name == filler.TakenWire {
		amount = q.rod(t.Value)
	}
	text := t.Name + " " + amount
	if t.Source != "" {
		text += ": " + t.Source
	}
	return text
}

// costLines say what the cost holds, at which rates, and what it lacks.
func (s *set) costLines(c *compare.Comparison) []string {
	var holds, lacks sayings
	priced := 0
	for i := range c.Rows {
		r := &c.Rows[i]
		if len(r.CostLines) == 0 {
			continue
		}
		priced++
		var parts []string
		for k := range r.CostLines {
			parts = append(parts, costText(&r.CostLines[k], c.Currency))
		}
		holds.add(r.Name, "holds "+strings.Join(parts, ", "))
		if len(r.NotPriced) > 0 {
			lacks.add(r.Name, costLacks(r))
		}
	}
	out := append(holds.lines(priced), lacks.lines(priced)...)
	if share := s.settings.Costs.ArcShare; len(out) > 0 && share > 0 && share < 1 {
		out = append(out, "labour is arc time over an arc share of "+decimal(share*100, 1)+" %")
	}
	return out
}

func costText(l *filler.CostLine, currency string) string {
	of := l.RateOf
	if of == "m3" {
		of = "m³"
	}
	return l.Name + " at " + significant(l.Rate) + " " + currency + "/" + of
}

// incompleteCost marks a cost that does not hold everything.
const incompleteCost = "INCOMPLETE"

// costLacks says what the cost of a row does not hold.
func costLacks(r *compare.Row) string {
	return incompleteCost + ", not priced: " + strings.Join(r.NotPriced, ", ")
}

// unproven say whose full penetration rests on a root face that nothing on file
// lets the arc melt through.
func (s *set) unproven(c *compare.Comparison) []string {
	var out []string
	for i := range c.Rows {
		if text := s.rootFaceText(&c.Rows[i]); text != "" {
			out = append(out, c.Rows[i].Name+": "+text+": prove it by a trial")
		}
	}
	return out
}

// rootFaceText says that the root face of a row is higher than any on file.
func (s *set) rootFaceText(r *compare.Row) string {
	switch {
	case !r.NotOnFile:
		return ""
	case r.MostRootFaceMM == 0:
		return "no range on file says that the arc melts through a root face of " + s.length(r.RootFaceMM)
	}
	return "melts through a root face of " + s.length(r.RootFaceMM) + ", over the " + s.length(r.MostRootFaceMM) + " that ranges on file end at"
}

// unknownMetric refuses to rank by what is known of no alternative.
func unknownMetric(m compare.Metric, why string) error {
	remedy := map[compare.Metric]string{
		compare.Mass:      "name the filler: filler.type=5356",
		compare.Labour:    "give cost.arc-share in the settings, or --prepare, --turn or --gouge",
		compare.Cost:      "give your own rates under cost and prices in the settings: `fay settings --template` shows how",
		compare.RootPower: "name the metal of each member, such as material=6082",
		compare.Shrinkage: "it is estimated of butt welds in grooves alone",
		compare.Angle:     "it is estimated of fillets on a plate that goes on alone",
	}[m]
	if remedy == "" {
		remedy = "use one of " + compare.MetricNames()
	}
	if why != "" {
		why = ": " + why
	}
	return usage(fmt.Sprintf("--by %s: %s is not known of any alternative%s", m, m.Title(), why), remedy)
}

// known refuses a metric that no row has.
func known(c *compare.Comparison) error {
	why := ""
	for i := range c.Rows {
		r := &c.Rows[i]
		if r.Values == nil {
			continue
		}
		if r.Values.Of(c.By) != nil {
			return nil
		}
		if c.By == compare.RootPower && why == "" {
			why = r.NoHeat
		}
	}
	return unknownMetric(c.By, why)
}

// fromMemory reports whether something behind an answer of the heat is
// remembered.
func fromMemory(basis []heat.Basis) bool {
	return slices.ContainsFunc(basis, func(b heat.Basis) bool { return b.Source.Provenance == heat.Memory })
}

// suits reads the preparations on file for a joint's plate, where it has an
// edge that they speak of.
func (j *job) suits(option *compare.Option) error {
	for i := range j.doc.Section.Welds {
		if j.doc.Section.Welds[i].Kind == joints.GrooveWeld {
			rows, _, err := j.suitable()
			option.Suitable = rows
			return err
		}
	}
	return nil
}
