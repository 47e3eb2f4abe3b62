package cli

import (
	"encoding/json"
	"math"
	"strconv"
)

// lineWriter appends JSON, byte for byte what encoding/json makes of the same
// values, which by reflection takes more than twice as long.
type lineWriter struct {
	to  []byte
	err error
}

// key begins a member of an object, after a comma where it is not the first.
func (w *lineWriter) key(name string) {
	w.next()
	w.to = append(append(append(w.to, '"'), name...), `":`...)
}

// next parts elements.
func (w *lineWriter) next() {
	if last := w.to[len(w.to)-1]; last != '{' && last != '[' {
		w.to = append(w.to, ',')
	}
}

func (w *lineWriter) open(mark byte)  { w.to = append(w.to, mark) }
func (w *lineWriter) close(mark byte) { w.to = append(w.to, mark) }

// text writes a string under a name.
func (w *lineWriter) text(name, v string) {
	w.key(name)
	for i := range len(v) {
		switch c := v[i]; {
		case c < ' ' || c > '~', c == '"', c == '\\', c == '<', c == '>', c == '&':
			w.other(v)
			return
		}
	}
	w.to = append(append(append(w.to, '"'), v...), '"')
}

// given writes a string that is not empty.
func (w *lineWriter) given(name, v string) {
	if v != "" {
		w.text(name, v)
	}
}

func (w *lineWriter) count(name string, n int) {
	w.key(name)
	w.to = strconv.AppendInt(w.to, int64(n), 10)
}

func (w *lineWriter) number(name string, v float64) {
	w.key(name)
	w.bare(v)
}

// some writes a number that is known.
func (w *lineWriter) some(name string, v *float64) {
	if v != nil {
		w.number(name, *v)
	}
}

// bare writes a number. Those that are rounded as results are have no
// more digits than their number of millionths, as long as those are exact.
func (w *lineWriter) bare(v float64) {
	const perUnit, exact = 1e6, 1e15
	millionths := math.Round(v * perUnit)
	if millionths/perUnit != v || math.Abs(millionths) >= exact || v == 0 && math.Signbit(v) {
		w.other(v)
		return
	}
	n := int64(millionths)
	if n < 0 {
		w.to, n = append(w.to, '-'), -n
	}
	w.to = strconv.AppendInt(w.to, n/perUnit, 10)
	part := n % perUnit
	if part == 0 {
		return
	}
	w.to = append(w.to, '.')
	for place := int64(perUnit / 10); part > 0; place /= 10 {
		w.to = append(w.to, "0123456789"[part/place])
		part %= place
	}
}

// other writes what is seldom met.
func (w *lineWriter) other(v any) {
	data, err := json.Marshal(v)
	if err != nil && w.err == nil {
		w.err = err
	}
	w.to = append(w.to, data...)
}

// appendJSON appends the joint as JSON.
func (l *jobLine) appendJSON(to []byte) ([]byte, error) {
	w := lineWriter{to: to}
	w.open('{')
	w.count("number", l.Number)
	if l.Row != 0 {
		w.count("row", l.Row)
	}
	w.given("file", l.File)
	w.given("kind", l.Kind)
	w.given("title", l.Title)
	w.given("job", l.Job)
	w.given("part", l.Part)
	w.given("joint", l.Joint)
	if l.Parts != 0 {
		w.count("parts", l.Parts)
	}
	w.given("digest", l.Digest)
	w.members(l.Members)
	w.welds(l.Welds)
	w.some("weld_length_mm", l.LengthMM)
	w.filler(l.Filler)
	if l.Cost != nil {
		w.key("cost")
		w.other(l.Cost)
	}
	w.checks(l.Checks)
	if l.Notes != nil {
		w.key("notes")
		w.other(l.Notes)
	}
	if l.Faults != nil {
		w.key("faults")
		w.other(l.Faults)
	}
	w.close('}')
	return w.to, w.err
}

func (w *lineWriter) members(members []jobMember) {
	if members == nil {
		return
	}
	w.key("members")
	w.open('[')
	for i := range members {
		m := &members[i]
		w.next()
		w.open('{')
		w.text("name", m.Name)
		w.number("thickness_mm", m.ThicknessMM)
		w.given("material", m.Material)
		w.close('}')
	}
	w.close(']')
}

func (w *lineWriter) welds(welds []jobWeld) {
	if welds == nil {
		return
	}
	w.key("welds")
	w.open('[')
	for i := range welds {
		l := &welds[i]
		w.next()
		w.open('{')
		w.text("id", l.ID)
		if l.LegsMM != nil {
			w.key("legs_mm")
			w.open('[')
			w.bare(l.LegsMM[0])
			w.next()
			w.bare(l.LegsMM[1])
			w.close(']')
		}
		w.number("effective_throat_mm", l.EffectiveThroat)
		w.number("area_mm2", l.AreaMM2)
		w.number("deposited_area_mm2", l.DepositedAreaMM2)
		w.close('}')
	}
	w.close(']')
}

func (w *lineWriter) filler(f *jobFiller) {
	if f == nil {
		return
	}
	w.key("filler")
	w.open('{')
	w.given("name", f.Name)
	w.given("form", string(f.Form))
	w.number("diameter_mm", f.DiameterMM)
	w.some("volume_cm3", f.VolumeCm3)
	w.some("deposited_kg", f.DepositedKg)
	w.some("consumed_kg", f.ConsumedKg)
	w.some("bought_kg", f.BoughtKg)
	w.some("rods", f.Rods)
	w.some("wire_m", f.WireM)
	w.some("arc_time_min", f.ArcTimeMin)
	w.some("gas_m3", f.GasM3)
	w.close('}')
}

func (w *lineWriter) checks(c *jobChecks) {
	if c == nil {
		return
	}
	w.key("checks")
	w.open('{')
	w.count("met", c.Met)
	w.count("not_met", c.NotMet)
	w.count("failed", c.Failed)
	w.count("cannot_tell", c.CannotTell)
	w.count("not_applicable", c.NotApplicable)
	w.key("findings_not_met")
	if c.Open == nil {
		w.other(nil)
	} else {
		w.open('[')
		for i := range c.Open {
			w.finding(&c.Open[i])
		}
		w.close(']')
	}
	w.close('}')
}

func (w *lineWriter) finding(f *jobFinding) {
	w.next()
	w.open('{')
	w.text("rule", f.Rule)
	w.text("title", f.Title)
	w.given("weld", f.Weld)
	w.text("provenance", string(f.Provenance))
	w.some("ratio", f.Ratio)
	w.given("mend", f.Mend)
	w.close('}')
}
