package cli

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	jobs "fay/joints/job"
	"fay/joints/job/xlsx"
	"fay/joints/result"
)

// jobResult is a whole job as programs read it.
type jobResult struct {
	Schema   string      `json:"schema"`
	Job      string      `json:"job,omitempty"`
	Title    string      `json:"title,omitempty"`
	Cautions []string    `json:"cautions"`
	Notes    []string    `json:"notes,omitzero"` // on the job as a whole
	Joints   []jobLine   `json:"joints"`
	Buying   []jobs.Item `json:"buying"`
	Currency string      `json:"currency,omitempty"` // of prices
	Totals   jobTotals   `json:"totals"`
	// Cost of the whole job, where the settings have a currency.
	Cost *jobs.Bill `json:"cost,omitempty"`
}

const jobForm = "fay.job/1"

// jobTotals are the sums over all parts of all joints.
type jobTotals struct {
	Joints       int      `json:"joints"`
	Parts        int      `json:"parts"`
	Missing      int      `json:"joints_missing"`      // that are wrong
	Open         int      `json:"joints_not_met"`      // with a check that is not met
	Failed       int      `json:"joints_failed"`       // of those, by values that are not from memory
	NoSeam       int      `json:"joints_without_seam"` // of which nothing is bought
	Checks       int      `json:"checks"`              // that could be compared
	ChecksNotMet int      `json:"checks_not_met"`      // of them
	WeldLengthMM float64  `json:"weld_length_mm"`
	VolumeCm3    float64  `json:"volume_cm3"`
	DepositedKg  *float64 `json:"deposited_kg,omitempty"` // absent where one mass is not known
	ConsumedKg   *float64 `json:"consumed_kg,omitempty"`
	BoughtKg     *float64 `json:"bought_kg,omitempty"` // of the buying list: whole rods, before rounding up to packs
	ArcTimeMin   *float64 `json:"arc_time_min,omitempty"`
	GasM3        *float64 `json:"gas_m3,omitempty"`
	Cylinders    *int     `json:"cylinders,omitempty"` // whole ones
	Price        *float64 `json:"price,omitempty"`     // of all packs, where all have one
	// Memory names what rests on values from memory, arc time or gas.
	Memory []string `json:"from_memory,omitzero"`
}

// result puts the joints of a job together.
func (r *jobRun) result(done []jobDone) *jobResult {
	s := r.works.settings
	res := &jobResult{
		Schema: jobForm, Job: r.in.name, Title: r.in.title, Joints: make([]jobLine, len(done)), Buying: r.buying.List(),
		Cautions: []string{"Geometry and published rules only: strength is not computed. The local code and licensed practice decide."},
	}
	t := &res.Totals
	var length, volume jobs.Sum
	var deposited, consumed, minutes, gas partial
	memory := false
	for i := range done {
		l := &done[i].line
		res.Joints[i] = *l
		t.Joints++
		if done[i].wrong() {
			t.Missing++
			continue
		}
		t.Parts += l.Parts
		t.Checks += l.Checks.Met + l.Checks.NotMet
		t.ChecksNotMet += l.Checks.NotMet
		if l.Checks.NotMet > 0 {
			t.Open++
		}
		if l.Checks.Failed > 0 {
			t.Failed++
		}
		memory = memory || l.Checks.Failed < l.Checks.NotMet
		if !done[i].bought {
			t.NoSeam++
			continue
		}
		length.Add(*l.LengthMM * float64(l.Parts))
		volume.Add(done[i].use.VolumeCm3)
		var mass [2]*float64
		if done[i].use.Weighed {
			mass = [2]*float64{&done[i].use.DepositedKg, &done[i].use.ConsumedKg}
		}
		deposited.add(mass[0])
		consumed.add(mass[1])
		minutes.add(l.Filler.ArcTimeMin)
		gas.add(l.Filler.GasM3)
		for k, name := range [...]string{arcTime, "gas"} {
			if done[i].remembered[k] && !slices.Contains(t.Memory, name) {
				t.Memory = append(t.Memory, name)
			}
		}
	}
	if res.Job == "" {
		res.Job = commonJob(res.Joints)
	}
	res.Notes = sameMarks(res.Joints)
	if memory {
		res.Cautions = append(res.Cautions, "Rules marked memory are not verified against their document.")
	}
	if len(t.Memory) > 0 {
		res.Cautions = append(res.Cautions, "Travel speed or gas flow behind numbers marked memory is not verified: give your own under processes in the settings.")
	}
	t.WeldLengthMM, t.VolumeCm3 = length.Value(), volume.Value()
	t.DepositedKg, t.ConsumedKg, t.ArcTimeMin, t.GasM3 = deposited.value(), consumed.value(), minutes.value(), gas.value()
	if t.GasM3 != nil && s.Cylinder > 0 {
		t.Cylinders = new(int(math.Ceil(*t.GasM3 / s.Cylinder * (1 - 1e-12))))
	}
	var price, bought partial
	for i := range res.Buying {
		bought.add(res.Buying[i].BoughtKg)
		if k := res.Buying[i].Packs; k != nil {
			price.add(k.Price)
		} else {
			price.add(nil)
		}
	}
	t.Price, t.BoughtKg = price.value(), bought.value()
	res.Currency, res.Cost = s.Costs.Currency, r.bill()
	return res
}

// sameMarks names the marks that stand for joints that are not the same: a sheet
// on the bench is told by its mark.
func sameMarks(lines []jobLine) []string {
	var order, notes []string
	numbers, digests := map[string][]string{}, map[string]map[string]bool{}
	for i := range lines {
		l := &lines[i]
		if l.Joint == "" || len(l.Faults) > 0 {
			continue
		}
		if digests[l.Joint] == nil {
			order, digests[l.Joint] = append(order, l.Joint), map[string]bool{}
		}
		numbers[l.Joint] = append(numbers[l.Joint], strconv.Itoa(l.Number))
		digests[l.Joint][l.Digest] = true
	}
	for _, mark := range order {
		if len(digests[mark]) > 1 {
			notes = append(notes, "the mark "+mark+" stands for different joints: "+joined(numbers[mark])+"; give each a traveler.joint of its own")
		}
	}
	return notes
}

// commonJob is the job number that all joints have.
func commonJob(lines []jobLine) string {
	number := ""
	for i := range lines {
		if len(lines[i].Faults) > 0 {
			continue
		}
		if n := lines[i].Job; n == "" || number != "" && n != number {
			return ""
		}
		number = lines[i].Job
	}
	return number
}

// partial is a sum that is not known where one of its numbers is not.
type partial struct {
	sum     jobs.Sum
	n       int
	unknown bool
}

func (p *partial) add(v *float64) {
	p.n++
	if v == nil {
		p.unknown = true
		return
	}
	p.sum.Add(*v)
}

func (p *partial) value() *float64 {
	if p.unknown || p.n == 0 {
		return nil
	}
	return new(p.sum.Value())
}

// print prints the job in a form.
func (r *jobRun) print(out *bytes.Buffer, done []jobDone, res *jobResult) error {
	switch r.plan.form {
	case asJSON:
		return result.WriteJSON(out, res) //nolint:wrapcheck // says itself what failed
	case asCSV:
		t := jobTable(res)
		return t.csv(out)
	}
	q := r.common(done).quantities()
	p := jobPrinter{res: res, q: q, size: q.length}
	p.print(out, r.plan.form)
	return nil
}

// common is a joint in the units that a job is printed in: those of all its
// joints, or of the shop where it has joints in both.
func (r *jobRun) common(done []jobDone) *job {
	j := &job{settings: r.works.settings}
	shop := j.settings.PrintUnit(j.settings.Units)
	j.doc.Units = shop
	first := true
	for i := range done {
		switch units := done[i].units; {
		case done[i].wrong():
		case first:
			j.doc.Units, first = units, false
		case units != j.doc.Units:
			j.doc.Units = shop
			return j
		}
	}
	return j
}

// faultsCell is the column of faults in a table of joints.
const faultsCell = 24

// jobTable is the job for spreadsheets: a joint in a row, mm and kg.
func jobTable(res *jobResult) table {
	bare := func(mm float64) string { return decimal(mm, 4) }
	t := table{heads: []string{
		"number", "row", "joint", "kind", "title", "part", "file", "parts", "members_mm", "weld_length_mm", "deposited_area_mm2", "filler", "diameter_mm",
		"deposited_kg", "consumed_kg", "bought_kg", "rods", "wire_m", "arc_time_min", "gas_m3", "checks_met", "checks_not_met", "not_met", "digest", "faults",
	}}
	if res.Currency != "" {
		t.heads = append(t.heads, "cost", "currency", "not_priced")
	}
	for i := range res.Joints {
		l := &res.Joints[i]
		row := ""
		if l.Row > 0 {
			row = strconv.Itoa(l.Row)
		}
		if len(l.Faults) > 0 {
			cells := make([]string, len(t.heads))
			cells[0], cells[1], cells[6], cells[faultsCell] = strconv.Itoa(l.Number), row, l.File, l.faultText()
			t.add(cells...)
			continue
		}
		f := l.Filler
		cells := append(make([]string, 0, len(t.heads)), strconv.Itoa(l.Number), row, l.Joint, l.Kind, l.Title, l.Part, l.File, strconv.Itoa(l.Parts), l.members(bare, "/"), plain(l.LengthMM),
			decimal(l.area(), 6), f.Name, decimal(f.DiameterMM, 6), plain(f.DepositedKg), plain(f.ConsumedKg), plain(f.BoughtKg), plain(f.Rods),
			plain(f.WireM), plain(f.ArcTimeMin), plain(f.GasM3), strconv.Itoa(l.Checks.Met), strconv.Itoa(l.Checks.NotMet), l.openRules(), l.Digest, "")
		if res.Currency != "" {
			amount, lacks := "", "no seam"
			if c := l.Cost; c != nil {
				amount, lacks = plain(&c.Total), strings.Join(c.NotPriced, "; ")
			}
			cells = append(cells, amount, res.Currency, lacks)
		}
		t.add(cells...)
	}
	return t
}

func (l *jobLine) faultText() string {
	texts := make([]string, len(l.Faults))
	for i, f := range l.Faults {
		texts[i] = f.Rule
		if about := strings.TrimSpace(f.Field + " " + f.Value); about != "" {
			texts[i] = about + ": " + f.Rule
		}
	}
	return strings.Join(texts, "; ")
}

func (l *jobLine) area() float64 {
	sum := 0.0
	for i := range l.Welds {
		sum += l.Welds[i].DepositedAreaMM2
	}
	return sum
}

// members are the thicknesses.
func (l *jobLine) members(size func(mm float64) string, between string) string {
	texts := make([]string, len(l.Members))
	for i := range l.Members {
		texts[i] = size(l.Members[i].ThicknessMM)
	}
	return strings.Join(texts, between)
}

func (l *jobLine) openRules() string {
	var rules []string
	for _, f := range l.Checks.Open {
		if !slices.Contains(rules, f.Rule) {
			rules = append(rules, f.Rule)
		}
	}
	return strings.Join(rules, "; ")
}

// name is how people call the joint; isolate may be nil.
func (l *jobLine) name(isolate func(string) string) string {
	title, part := l.Title, l.Part
	if isolate != nil {
		title, part = isolate(title), isolate(part)
	}
	if l.Part != "" && !strings.Contains(strings.ToLower(l.Title), strings.ToLower(l.Part)) {
		title += ", " + part
	}
	return title
}

// writeBuying writes the workbook, where one is asked for; joints may be nil.
func (r *jobRun) writeBuying(done []jobDone) error {
	if r.sold == nil {
		return nil
	}
	currency := r.works.settings.Costs.Currency
	list := xlsx.Sheet{Name: "To buy", Heads: []string{"filler", "form", "diameter mm", "length mm", "joints", "deposited kg", "needed kg", "rods",
		"wire m", "to buy", "pack", "pack kg", "price of packs " + currency}}
	for _, i := range r.buying.List() {
		var count *int
		var label string
		var mass, price *float64
		if k := i.Packs; k != nil {
			count, label, mass, price = &k.Count, k.Pack, &k.PackKg, k.Price
		}
		list.Rows = append(list.Rows, []xlsx.Cell{
			xlsx.Text(fillerLabel(i.Filler)), xlsx.Text(string(i.Form)), rounded(&i.DiameterMM), rounded(i.LengthMM), xlsx.Count(&i.Joints), rounded(i.DepositedKg),
			rounded(i.BoughtKg), xlsx.Count(i.Rods), rounded(i.WireM), xlsx.Count(count), xlsx.Text(label), rounded(mass), rounded(price),
		})
	}
	last := len(list.Heads) - 1
	list.Heads[last] = strings.TrimSpace(list.Heads[last])
	book := []xlsx.Sheet{list}
	if done != nil {
		book = append(book, jobSheet(done, currency))
	}
	if b := r.bill(); b != nil {
		book = append(book, billSheet(b))
	}
	if err := xlsx.Write(r.sold, book); err != nil {
		return fmt.Errorf("write the buying list: %w", err)
	}
	return nil
}

// jobSheet lists the joints behind the buying list.
func jobSheet(done []jobDone, currency string) xlsx.Sheet {
	s := xlsx.Sheet{Name: "Joints", Heads: []string{"no.", "joint", "title", "part", "parts", "weld length mm", "filler", "needed kg", "rods", "checks not met"}}
	if currency != "" {
		s.Heads = append(s.Heads, "cost "+currency, "not priced")
	}
	for i := range done {
		l := &done[i].line
		if done[i].wrong() {
			s.Rows = append(s.Rows, []xlsx.Cell{xlsx.Count(&l.Number), {}, xlsx.Text("missing: " + l.faultText())})
			continue
		}
		cells := []xlsx.Cell{xlsx.Count(&l.Number), xlsx.Text(l.Joint), xlsx.Text(l.Title), xlsx.Text(l.Part), xlsx.Count(&l.Parts), xlsx.Number(l.LengthMM),
			xlsx.Text(fillerLabel(l.Filler.Name)), xlsx.Number(l.Filler.BoughtKg), xlsx.Number(l.Filler.Rods), xlsx.Count(&l.Checks.NotMet)}
		if c := l.Cost; c != nil {
			cells = append(cells, rounded(&c.Total), xlsx.Text(strings.Join(c.NotPriced, ", ")))
		}
		s.Rows = append(s.Rows, cells)
	}
	return s
}

// billSheet is the cost of the job.
func billSheet(b *jobs.Bill) xlsx.Sheet {
	s := xlsx.Sheet{Name: "Cost", Heads: []string{"cost", b.Currency, "note"}}
	add := func(name string, v float64, note string) {
		s.Rows = append(s.Rows, []xlsx.Cell{xlsx.Text(name), rounded(&v), xlsx.Text(note)})
	}
	for _, l := range billLines(b) {
		note := ""
		if l.Name == billTotal {
			note = billLacks(b)
		}
		add(l.Name, l.Amount, note)
	}
	return s
}

func rounded(v *float64) xlsx.Cell {
	if v == nil {
		return xlsx.Cell{}
	}
	return xlsx.Number(new(result.Round(*v)))
}

func fillerLabel(name string) string {
	if name == "" {
		return "not named"
	}
	return name
}
