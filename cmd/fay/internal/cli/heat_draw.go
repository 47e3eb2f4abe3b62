package cli

import (
	"bytes"
	"fmt"
	"strings"

	"fay/geometry"
	"fay/render"
	"fay/render/heatmap"
	"fay/render/pdf"
	"fay/render/png"
	"fay/render/svg"
)

// drawHeat draws the section with its isotherms.
func (a *app) drawHeat(h *heating, o *heatOptions, format string) error {
	d, err := h.sheet()
	if err != nil {
		return err
	}
	return a.writeHeat(d, h, o, format, "heat of a joint")
}

// writeHeat writes a drawing to the output.
func (a *app) writeHeat(d *render.Drawing, h *heating, o *heatOptions, format, subject string) error {
	var out bytes.Buffer
	var err error
	switch format {
	case "svg":
		err = svg.Write(&out, d)
	case "png":
		err = png.Write(&out, d, o.dpi)
	default:
		err = pdf.Write(&out, []*render.Drawing{d}, pdf.Info{Title: h.title(), Author: h.settings.Company, Subject: subject})
	}
	if err != nil {
		return fmt.Errorf("draw: %w", err)
	}
	if o.output == "-" {
		return a.print(out.Bytes())
	}
	if err := writeFile(o.output, out.Bytes()); err != nil {
		return err
	}
	a.talkf("fay: wrote %s\n", o.output)
	return nil
}

// sheet composes the drawing.
func (h *heating) sheet() (*render.Drawing, error) {
	style := h.plotStyle()
	q := h.quantities()
	marker := style.Numbers.Decimal
	w := h.weld()
	names := h.feetNames()
	given := h.given(q)
	if w.Feet[0].Leg > 0 {
		given = append(given, "legs "+q.length(float64(w.Feet[0].Leg))+" × "+q.length(float64(w.Feet[1].Leg)))
	}
	percent := decimal(100*(h.params.AimShift+0.5), 0)
	arc := &h.in.Arc
	job := heatmap.Job{
		Title: h.title() + ", heat of the " + w.ID + " weld", Subtitle: marked(strings.Join(given, ", "), marker),
		Company: h.settings.Company, Digest: h.doc.Digest[:shortDigest],
		Section: &h.doc.Section, Weld: w, Field: h.field, Picture: h.picture, Answer: &h.answer,
		Aim:     w.Feet[1].Toe.Lerp(w.Feet[0].Toe, 0.5+h.params.AimShift),
		AimText: "aim " + percent + " %",
	}
	job.Liquidus, job.Solidus = h.melting()
	travel := decimal(arc.Speed*60, 0) + " mm/min"
	if h.doc.Units == geometry.UnitInch {
		travel = decimal(arc.Speed*60/float64(geometry.Inch), 1) + " in/min"
	}
	efficiency := "arc, efficiency"
	if h.calibration != nil {
		efficiency = "arc, calibrated efficiency"
		job.Notes = append(job.Notes, marked(calibrationNote(h.calibration), marker))
	}
	job.Data = []heatmap.Line{
		{Label: "metals", Value: names[0] + " " + h.metal(0).Name + ", " + names[1] + " " + h.metal(1).Name},
		{Label: "process, travel", Value: marked(string(arc.Process)+", "+travel, marker)},
		{Label: efficiency + " " + strings.ReplaceAll(decimal(arc.Efficiency.Low, 2)+" to "+decimal(arc.Efficiency.High, 2), ".", marker), Value: h.arcText()},
	}
	words := h.fieldWords(q)
	for _, l := range words {
		if !strings.HasPrefix(l, "advice: ") {
			job.Notes = append(job.Notes, marked(l, marker))
		}
	}
	if advice := h.field.Window.Advice; len(advice) > 1 {
		job.Notes = append(job.Notes, "advice: "+strings.Join(advice[1:], "; "))
	}
	job.Notes = append(append(job.Notes, h.answer.Cautions...), unproven)
	d, err := heatmap.Compose(job, &style, h.plotPage())
	if err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	return d, nil
}

// arcText is the arc power that gives the net power of the picture.
func (h *heating) arcText() string {
	e := h.in.Arc.Efficiency
	p := h.picture.Power
	return fmt.Sprintf("%s to %s", strings.TrimSuffix(watts(p/e.High), " W"), watts(p/e.Low))
}

// melting is what each region of the picture melts at, °C: members by name,
// weld metal as the metal laid, which is that of the thinner member.
func (h *heating) melting() (liquidus, solidus []float64) {
	s := &h.doc.Section
	feet := h.feet()
	laid := h.metal(1)
	if s.Members[feet[0]].Thickness < s.Members[feet[1]].Thickness {
		laid = h.metal(0)
	}
	for _, m := range h.picture.Melted {
		metal := laid
		for i := range s.Members {
			if s.Members[i].Name == m.Name {
				metal = &h.in.Members[i].Material
			}
		}
		liquidus, solidus = append(liquidus, metal.Liquidus), append(solidus, metal.Solidus)
	}
	return liquidus, solidus
}
