package cli

import (
	"bytes"
	"fmt"
	"strings"

	"fay/joints"
)

// printf prints to a buffer, which never fails.
func printf(w *bytes.Buffer, format string, args ...any) { _, _ = fmt.Fprintf(w, format, args...) }

func heading(w *bytes.Buffer, f format, text string) {
	if f == asMD {
		printf(w, "\n## %s\n\n", text)
		return
	}
	printf(w, "\n%s\n", text)
}

// printJoint prints the joint and its welds.
func (j *job) printJoint(w *bytes.Buffer, f format, q quantities) {
	s := &j.doc.Section
	if f == asMD {
		printf(w, "# %s\n\n", s.Title)
	} else {
		printf(w, "%s\n", s.Title)
	}
	printf(w, "%s\n", strings.Join(j.given(q), ", "))
	heading(w, f, "Welds")
	t := table{heads: []string{"weld", "legs", "effective throat", "theoretical throat", "actual throat", "area", "deposited"}}
	for i := range s.Welds {
		d := &s.Welds[i]
		legs, theoretical := "", ""
		if d.Kind == joints.FilletWeld {
			legs = q.length(float64(d.Feet[0].Leg)) + " × " + q.length(float64(d.Feet[1].Leg))
			theoretical = q.length(float64(d.TheoreticalThroat))
		}
		t.add(d.ID, legs, q.length(float64(d.EffectiveThroat)), theoretical, q.length(float64(d.ActualThroat)),
			q.area(d.Area), q.area(d.DepositedArea))
	}
	t.in(f, w)
}

// given lists what the joint was described by: members with their material,
// and everything that is not a default.
func (j *job) given(q quantities) []string {
	var out []string
	for i := range j.doc.Section.Parameters {
		p := &j.doc.Section.Parameters[i]
		if p.Default || strings.HasPrefix(p.Name, "welds.") {
			continue
		}
		text := p.Choice
		if p.Unit != "" {
			text = q.value(p.Value, p.Unit)
		}
		if p.Tolerance != nil {
			text += " " + q.tolerance(p.Tolerance, p.Unit)
		}
		name, isMaterial := strings.CutSuffix(p.Name, ".material")
		if isMaterial && len(out) > 0 {
			out[len(out)-1] += " " + text
			continue
		}
		out = append(out, strings.TrimSuffix(name, ".thickness")+" "+text)
	}
	return out
}

// tail prints notes and cautions.
func tail(w *bytes.Buffer, f format, notes, cautions []string) {
	bullet := ""
	if f == asMD {
		bullet = "- "
	}
	if len(notes)+len(cautions) > 0 {
		printf(w, "\n")
	}
	for _, n := range notes {
		printf(w, "%sNote: %s\n", bullet, n)
	}
	for _, c := range cautions {
		printf(w, "%sCaution: %s\n", bullet, c)
	}
}
