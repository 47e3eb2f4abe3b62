package cli

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"fay/joints/check"
	jobs "fay/joints/job"
)

// jobPrinter prints a job for people, in the units of [jobRun.common].
type jobPrinter struct {
	res *jobResult
	q   quantities
	// size prints a length of the list of joints, with its unit unless that
	// stands in the heads.
	size func(mm float64) string
	unit string // behind the heads of lengths
	// isolate keeps a text of the user from changing the order of those around it.
	isolate func(text string) string
}

func (p *jobPrinter) print(w *bytes.Buffer, f format) {
	title := p.title()
	if f == asMD {
		title = "# " + title
	}
	printf(w, "%s\n", title)
	show := func(name string, t table) {
		if len(t.rows) > 0 {
			heading(w, f, name)
			t.in(f, w)
		}
	}
	heads, rows := p.joints(nil)
	show("Joints", table{heads: heads, rows: rows})
	heads, rows = p.buying()
	show("To buy for the whole job", table{heads: heads, rows: rows})
	show("In all", table{heads: []string{"", ""}, rows: p.totals()})
	show("Cost, at your own prices", table{heads: []string{"", ""}, rows: p.bill()})
	heading(w, f, "Checks")
	p.list(w, f, p.findings())
	tail(w, f, p.notes(), p.res.Cautions)
}

func (p *jobPrinter) list(w *bytes.Buffer, f format, lines []string) {
	bullet := ""
	if f == asMD {
		bullet = "- "
	}
	for _, l := range lines {
		printf(w, "%s%s\n", bullet, l)
	}
}

func (p *jobPrinter) title() string {
	title := "Job"
	if p.res.Job != "" {
		title += " " + p.res.Job
	}
	if p.res.Title != "" {
		title += ": " + p.res.Title
	}
	return title
}

// jobColumns are the columns of the list of joints.
var jobColumns = []struct {
	head   string
	right  bool // as numbers are set
	length bool
	screen bool // left out on paper
}{
	{head: "no.", right: true}, {head: "joint"}, {head: "what"}, {head: "members", length: true}, {head: "throats", length: true, screen: true},
	{head: "parts", right: true}, {head: "weld/part", right: true, length: true}, {head: "filler"}, {head: "rods", right: true, screen: true}, {head: "checks"},
}

// whatColumn is that of names.
const whatColumn = 2

// joints lists the joints; sheets are the numbers of their travelers, nil for
// none.
func (p *jobPrinter) joints(sheets []int) (heads []string, rows [][]string) {
	for _, c := range jobColumns {
		head := c.head
		if c.length {
			head += p.unit
		}
		heads = append(heads, head)
	}
	if p.res.Currency != "" {
		heads = append(heads, "cost, "+p.res.Currency)
	}
	if sheets != nil {
		heads = append(heads, "sheet")
	}
	for i := range p.res.Joints {
		l := &p.res.Joints[i]
		cells := make([]string, len(heads))
		cells[0] = strconv.Itoa(l.Number)
		if len(l.Faults) > 0 {
			cells[1], cells[2] = "missing", l.faultText()
			if l.Row > 0 {
				cells[2] = "row " + strconv.Itoa(l.Row) + ": " + cells[2]
			}
			rows = append(rows, cells)
			continue
		}
		cells[1], cells[2], cells[3], cells[4], cells[5] = l.Joint, l.name(p.isolate), l.members(p.size, " / "), p.throats(l), strconv.Itoa(l.Parts)
		cells[8], cells[9] = "", checksText(l.Checks)
		if l.LengthMM != nil {
			cells[6] = p.size(*l.LengthMM)
		}
		cells[7] = strings.TrimSpace(l.Filler.Name + " ⌀ " + rodSize(l.Filler.DiameterMM, p.q.unit, p.size))
		if l.Filler.Rods != nil {
			cells[8] = decimal(*l.Filler.Rods, 1)
		}
		if p.res.Currency != "" {
			cells[len(jobColumns)] = p.cost(l)
		}
		if sheets != nil {
			cells[len(cells)-1] = strconv.Itoa(sheets[i])
		}
		rows = append(rows, cells)
	}
	return heads, rows
}

// throats are the effective throats of the welds, two like ones once.
func (p *jobPrinter) throats(l *jobLine) string {
	var texts []string
	for i := range l.Welds {
		text := p.size(l.Welds[i].EffectiveThroat)
		if len(texts) == 0 || texts[len(texts)-1] != text {
			texts = append(texts, text)
		}
	}
	return strings.Join(texts, ", ")
}

func checksText(c *jobChecks) string {
	switch {
	case c.NotMet > 0:
		return strconv.Itoa(c.NotMet) + " not met"
	case c.Met > 0:
		return strconv.Itoa(c.Met) + " met"
	}
	return "none"
}

// buying lists what to buy.
func (p *jobPrinter) buying() (heads []string, rows [][]string) {
	heads = []string{"filler", "size", "deposited", "needed", "to buy", "price"}
	priced := p.res.Currency != ""
	for i := range p.res.Buying {
		b := &p.res.Buying[i]
		size := "⌀ " + p.q.rod(b.DiameterMM)
		var needed []string
		switch b.Form {
		case jobs.Rod:
			size += " × " + p.q.length(*b.LengthMM)
			needed = append(needed, count(*b.Rods, "rod", "rods"))
		case jobs.Wire:
			needed = append(needed, p.q.amount(b.WireM, "m")+" of wire")
		}
		if b.BoughtKg != nil {
			needed = append(needed, p.q.amount(b.BoughtKg, "kg"))
		}
		packs, price := "", ""
		if k := b.Packs; k != nil {
			packs = strconv.Itoa(k.Count) + " × " + k.Pack
			price = "not priced"
			if k.Price != nil {
				price = p.money(*k.Price)
			}
		}
		rows = append(rows, []string{fillerLabel(b.Filler), size, p.q.amount(b.DepositedKg, "kg"), strings.Join(needed, ", "), packs, price})
	}
	if !priced {
		heads = heads[:len(heads)-1]
		for i := range rows {
			rows[i] = rows[i][:len(heads)]
		}
	}
	return heads, rows
}

// totals are the sums with their names.
func (p *jobPrinter) totals() [][]string {
	t := &p.res.Totals
	out := [][]string{{"joints", strconv.Itoa(t.Joints - t.Missing)}, {"parts", strconv.Itoa(t.Parts)}}
	if t.Missing > 0 {
		out = append(out, []string{"joints missing", strconv.Itoa(t.Missing)})
	}
	add := func(name string, v *float64, unit string) {
		if v != nil {
			out = append(out, []string{name, p.q.amount(v, unit) + p.memory(name)})
		}
	}
	add("weld length", new(t.WeldLengthMM/1000), "m")
	add("deposited volume", &t.VolumeCm3, "cm³")
	add("deposited", t.DepositedKg, "kg")
	add("needed", t.BoughtKg, "kg")
	add(arcTime, t.ArcTimeMin, "min")
	add("gas", t.GasM3, "m³")
	if t.Cylinders != nil {
		out = append(out, []string{"cylinders of gas", strconv.Itoa(*t.Cylinders) + p.memory("gas")})
	}
	return out
}

// memory marks a number that rests on a value from memory.
func (p *jobPrinter) memory(name string) string {
	if slices.Contains(p.res.Totals.Memory, name) {
		return " [" + string(check.Memory) + "]"
	}
	return ""
}

// bill is the cost of the job with the total last.
func (p *jobPrinter) bill() [][]string {
	if p.res.Cost == nil {
		return nil
	}
	var out [][]string
	for _, l := range billLines(p.res.Cost) {
		text := p.money(l.Amount)
		switch l.Name {
		case billTotal:
			if lacks := billLacks(p.res.Cost); lacks != "" {
				text += ", " + lacks
			}
		case "labour":
			text += p.memory(arcTime) // it is paid by
		default:
			text += p.memory(l.Name)
		}
		out = append(out, []string{l.Name, text})
	}
	return out
}

const (
	billTotal = "total"
	arcTime   = "arc time"
)

// billLines are what a bill is made of, then how much of it is for the joints as
// they are listed and how much for filler that is left over, and the total.
func billLines(b *jobs.Bill) []jobs.CostLine {
	return append(slices.Clone(b.Lines),
		jobs.CostLine{Name: "of this, for the joints as listed", Amount: b.Joints},
		jobs.CostLine{Name: "of this, for filler left over in packs", Amount: b.Rounding},
		jobs.CostLine{Name: billTotal, Amount: b.Total})
}

// billLacks says what the total does not hold; empty where it is complete.
func billLacks(b *jobs.Bill) string {
	if b.Complete {
		return ""
	}
	return "INCOMPLETE, not priced: " + strings.Join(b.Missing, ", ")
}

// cost is that of all parts of a joint.
func (p *jobPrinter) cost(l *jobLine) string {
	c := l.Cost
	switch {
	case c == nil:
		return "–"
	case len(c.Lines) == 0:
		return "not priced"
	case len(c.NotPriced) > 0:
		return amount(c.Total) + without + strings.Join(c.NotPriced, ", ")
	}
	return amount(c.Total)
}

// without stands between an amount and what it does not hold.
const without = " without "

// money prints an amount with its currency.
func (p *jobPrinter) money(v float64) string { return amount(v) + " " + p.res.Currency }

// amount prints money to a hundredth.
func amount(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

// findings says how the checks came out: the count, then each rule that is not
// met, with the joints it is not met on.
func (p *jobPrinter) findings() []string {
	t := &p.res.Totals
	text := count(t.Checks, "check", "checks") + " compared, all met"
	switch {
	case t.Checks == 0:
		text = "no check compared"
	case t.ChecksNotMet > 0:
		text = count(t.Checks, "check", "checks") + " compared, " + strconv.Itoa(t.ChecksNotMet) + " not met on " + count(t.Open, "joint", "joints")
	}
	var order []string
	open := map[string]*openRule{}
	for i := range p.res.Joints {
		l := &p.res.Joints[i]
		if l.Checks == nil {
			continue
		}
		for k := range l.Checks.Open {
			f := &l.Checks.Open[k]
			r, known := open[f.Rule]
			if !known {
				r = &openRule{first: f, mend: f.Mend}
				open[f.Rule], order = r, append(order, f.Rule)
			}
			r.add(f, strconv.Itoa(l.Number))
		}
	}
	out := append(make([]string, 0, 1+len(order)), text)
	for _, id := range order {
		r := open[id]
		text := "not met on " + joined(r.joints) + ": " + r.first.Title
		if r.mend != "" {
			text += "; to mend: " + r.mend
		}
		out = append(out, text+" ["+id+", "+string(r.first.Provenance)+"]")
	}
	return out
}

// openRule is a rule that joints do not meet.
type openRule struct {
	first  *jobFinding
	joints []string
	mend   string // where it is the same for all
}

func (r *openRule) add(f *jobFinding, number string) {
	if n := len(r.joints); n == 0 || r.joints[n-1] != number {
		r.joints = append(r.joints, number)
	}
	if f.Mend != r.mend {
		r.mend = ""
	}
}

// notes says what the lists leave out.
func (p *jobPrinter) notes() []string {
	var out, notes []string
	var missing, none []string
	told := map[string]bool{}
	for i := range p.res.Joints {
		l := &p.res.Joints[i]
		n := strconv.Itoa(l.Number)
		switch {
		case len(l.Faults) > 0:
			missing = append(missing, n)
		case l.LengthMM == nil:
			none = append(none, n)
		}
		for _, text := range l.Notes {
			if !told[text] {
				told[text] = true
				notes = append(notes, n+": "+text)
			}
		}
	}
	if len(missing) > 0 {
		out = append(out, "missing because they are wrong: "+joined(missing))
	}
	if len(none) > 0 {
		out = append(out, "no seam, so nothing to buy for "+joined(none))
	}
	return append(append(p.res.Notes, out...), notes...)
}

// joined names joints, a few of many.
func joined(numbers []string) string {
	const most = 20
	what := "joint"
	if len(numbers) > 1 {
		what = "joints"
	}
	if more := len(numbers) - most; more > 0 {
		return what + " " + strings.Join(numbers[:most], ", ") + " and " + strconv.Itoa(more) + " more"
	}
	return what + " " + strings.Join(numbers, ", ")
}
