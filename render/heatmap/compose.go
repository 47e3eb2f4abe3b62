package heatmap

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fay/geometry"
	"fay/joints"
	"fay/joints/heat"
	"fay/render"
	"fay/render/lettering"
	"fay/render/plot"
)

// Job is what the sheet shows.
type Job struct {
	Title, Subtitle string
	Company, Digest string
	Section         *joints.Section
	Weld            *joints.Weld
	Field           *heat.Field
	Picture         heat.Picture
	Answer          *heat.Result
	// Liquidus and Solidus of each region of the picture, °C, in the order of
	// its Melted.
	Liquidus, Solidus []float64
	Aim               geometry.Point // in the section plane
	AimText           string
	// Data are lines of the title block: speed, efficiency, what it is made of.
	Data []Line
	// Notes stand under the picture.
	Notes []string
}

// Line is a label with its value.
type Line struct{ Label, Value string }

// ErrIncomplete is returned for a job without a section, a weld or a field.
var ErrIncomplete = errors.New("heatmap: a sheet needs section, weld, field, picture and answer")

// ErrTooSmall is returned for a page that cannot hold the picture.
var ErrTooSmall = errors.New("heatmap: the page is too small")

// The borders of a sheet: 20 mm at the filing edge, 10 mm elsewhere (ISO 5457,
// secondary), and the room inside the frame.
const (
	filing  = 20.
	border  = 10.
	inside  = 5.
	column  = 84.
	gutter  = 6.
	leading = 1.7
	// noteLeading is that of notes, the least of ISO 3098 for capitals without
	// accents (secondary).
	noteLeading = 1.5
	// leastView is the smallest side of the window of the section.
	leastView = 50.
)

// Compose draws the sheet.
func Compose(job Job, style *render.Style, page plot.Page) (*render.Drawing, error) {
	if job.Section == nil || job.Weld == nil || job.Field == nil || job.Answer == nil || len(job.Liquidus) != len(job.Picture.Melted) ||
		len(job.Solidus) != len(job.Liquidus) || len(job.Picture.Peak) != job.Field.Nodes() {
		return nil, ErrIncomplete
	}
	if page.Width < page.Height { // the picture is wider than high
		page.Width, page.Height = page.Height, page.Width
	}
	s := &sheet{job: &job, style: style}
	frame := geometry.Box{Min: geometry.Point{X: filing, Y: border}, Max: geometry.Point{X: page.Width - border, Y: page.Height - border}}
	s.rect("frame", frame, style.FrameLine())
	box := geometry.Box{Min: frame.Min.Add(geometry.Point{X: inside, Y: inside}), Max: frame.Max.Sub(geometry.Point{X: inside, Y: inside})}
	top := s.heading(box)
	side := geometry.Box{Min: geometry.Point{X: box.Max.X - column, Y: box.Min.Y}, Max: geometry.Point{X: box.Max.X, Y: top}}
	below := s.column(side)
	rows := s.blockRows()
	side.Min.Y += blockPitch*float64(len(rows)) + 3
	side.Max.Y = below
	left := box
	left.Max.X = side.Min.X - gutter
	rest := s.aside(side)
	window := geometry.Box{Min: geometry.Point{X: box.Min.X, Y: s.notes(left, rest)}, Max: geometry.Point{X: left.Max.X, Y: top}}
	if !(window.Width() >= leastView && window.Height() >= leastView) {
		return nil, ErrTooSmall
	}
	v := newView(&job, style, window)
	v.draw()
	s.items = append(s.items, v.items...)
	rows[0] = Line{"scale " + render.ScaleText(v.scale), "ticks every " + style.Numbers.Length(v.tick()) + " " + style.Numbers.Name()}
	s.block(rows, box)
	d := &render.Drawing{
		Width: page.Width, Height: page.Height, Title: job.Title, Language: "en", Items: s.items,
		Description: fmt.Sprintf("%s. %s. Peak temperatures at %.0f W in the work.", job.Title, job.Subtitle, roundPower(job.Picture.Power)),
		Views:       []render.View{{Name: "section", Scale: v.scale, Origin: v.origin}},
	}
	if style.Language == render.LanguageUS {
		d.Language = "en-US"
	}
	return d, nil
}

// sheet draws what stands round the section.
type sheet struct {
	job   *Job
	style *render.Style
	items []render.Item
}

func (s *sheet) text(role string, x, y, height float64, align render.Align, face render.Face, content string) {
	if content == "" {
		return
	}
	s.items = append(s.items, render.Item{Layer: render.LayerText, View: render.NoView, Role: role, Text: &render.Text{
		At: geometry.Point{X: x, Y: y}, Height: height, Align: align, Face: face, Content: content}})
}

func (s *sheet) line(role string, a, b geometry.Point, pen *render.Stroke) {
	s.items = append(s.items, render.Item{Layer: render.LayerFrame, View: render.NoView, Role: role,
		Path: &render.Path{Edges: []geometry.Edge{geometry.Line(a, b)}, Stroke: pen}})
}

func (s *sheet) rect(role string, b geometry.Box, pen *render.Stroke) {
	s.items = append(s.items, render.Item{Layer: render.LayerFrame, View: render.NoView, Role: role, Path: &render.Path{
		Edges: rectangle(b), Closed: true, Stroke: pen}})
}

func rectangle(b geometry.Box) []geometry.Edge {
	p, q := geometry.Point{X: b.Max.X, Y: b.Min.Y}, geometry.Point{X: b.Min.X, Y: b.Max.Y}
	return []geometry.Edge{geometry.Line(b.Min, p), geometry.Line(p, b.Max), geometry.Line(b.Max, q), geometry.Line(q, b.Min)}
}

// heading draws title and subtitle and gives the top of what is left.
func (s *sheet) heading(box geometry.Box) float64 {
	top := box.Max.Y
	for i, part := range [2]string{s.job.Title, s.job.Subtitle} {
		height, face := s.style.TitleHeight, render.FaceBold
		if i == 1 {
			height, face = s.style.TextHeight, render.FaceRegular
		}
		for _, l := range lettering.Wrap(part, face, height, box.Width()) {
			top -= height
			s.text("title", box.Min.X, top, height, render.AlignLeft, face, l)
			top -= height * (leading - 1)
		}
	}
	return top - 1.5
}

// indent of a note behind its mark, mm.
const indent = 3.

// notes draws notes from the bottom up and gives their top.
func (s *sheet) notes(box geometry.Box, notes []string) float64 {
	y := box.Min.Y
	for _, note := range slices.Backward(notes) {
		y = s.note(box, y, note)
	}
	return y + 2
}

// note draws a note that ends at y, and gives its top.
func (s *sheet) note(box geometry.Box, y float64, note string) float64 {
	h := s.style.SmallHeight
	lines := lettering.Wrap(note, render.FaceRegular, h, box.Width()-indent)
	for k, line := range slices.Backward(lines) {
		s.text("note", box.Min.X+indent, y, h, render.AlignLeft, render.FaceRegular, line)
		if k == 0 {
			s.text("note", box.Min.X, y, h, render.AlignLeft, render.FaceRegular, "–")
		}
		y += h * noteLeading
	}
	return y
}

// aside draws the last notes beside the section, as many as there is room for,
// and gives the others.
func (s *sheet) aside(box geometry.Box) []string {
	h := s.style.SmallHeight
	notes := s.job.Notes
	y := box.Min.Y
	for len(notes) > 0 {
		last := notes[len(notes)-1]
		if y+float64(len(lettering.Wrap(last, render.FaceRegular, h, box.Width()-indent)))*h*noteLeading > box.Max.Y {
			break
		}
		y = s.note(box, y, last)
		notes = notes[:len(notes)-1]
	}
	return notes
}

// column draws what stands beside the section, from the top down, and gives
// where it ends.
func (s *sheet) column(box geometry.Box) float64 {
	h := s.style.SmallHeight
	y := box.Max.Y
	y = s.bar(box, y, "share of the arc, before the pool bridges", func(m *heat.MemberHeat) float64 { return m.AimShare })
	y = s.bar(box, y, "share of the heat in the end", func(m *heat.MemberHeat) float64 { return m.LongRun })
	y = s.title(box, y, "peak temperatures at "+s.number(roundPower(s.job.Picture.Power))+" W in the work")
	for _, p := range s.job.places() {
		for _, i := range p.points {
			x := &s.job.Picture.Points[i]
			y -= h
			s.text("point", box.Min.X, y, h, render.AlignLeft, render.FaceBold, p.letter)
			right := s.degrees(x.Peak) + ", " + stateWord(x.State)
			room := box.Width() - 6 - lettering.Measure(right, render.FaceRegular, h)
			s.text("point", box.Min.X+4, y, h, render.AlignLeft, render.FaceRegular, shorten(x.Name, h, room))
			s.text("point", box.Max.X, y, h, render.AlignRight, render.FaceRegular, right)
			y -= h * (leading - 1)
		}
	}
	y = s.title(box, y-2, "lines; how far from the toes on "+s.job.Answer.Members[0].Name+" and "+s.job.Answer.Members[1].Name)
	for _, k := range s.key() {
		y -= h
		if k.pen != nil {
			m := y + h/2
			s.line("key", geometry.Point{X: box.Min.X, Y: m}, geometry.Point{X: box.Min.X + 16, Y: m}, k.pen)
		}
		s.text("key", box.Min.X+18, y, h, render.AlignLeft, render.FaceRegular, shorten(k.text, h, box.Width()-18))
		y -= h * (leading - 1)
	}
	return y - 2
}

// roundPower is a power to three digits: no more is known.
func roundPower(v float64) float64 {
	if v <= 0 {
		return 0
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-2)
	return math.Round(v/step) * step
}

func stateWord(st heat.State) string {
	if st == heat.Mushy {
		return "mushy"
	}
	return string(st)
}

func (s *sheet) title(box geometry.Box, y float64, text string) float64 {
	h := s.style.SmallHeight
	y -= h
	s.text("column", box.Min.X, y, h, render.AlignLeft, render.FaceBold, text)
	y -= 1.4
	s.line("column", geometry.Point{X: box.Min.X, Y: y}, geometry.Point{X: box.Max.X, Y: y}, &render.Stroke{Width: 0.35})
	return y - 1.4
}

// bar draws how two members share something: the part of the first is solid,
// that of the second empty.
func (s *sheet) bar(box geometry.Box, y float64, title string, of func(*heat.MemberHeat) float64) float64 {
	h := s.style.SmallHeight
	y = s.title(box, y, title)
	a, b := &s.job.Answer.Members[0], &s.job.Answer.Members[1]
	share := math.Min(math.Max(of(a), 0), 1)
	y -= h
	s.text("bar", box.Min.X, y, h, render.AlignLeft, render.FaceRegular, a.Name+" "+s.number(100*of(a))+" %")
	s.text("bar", box.Max.X, y, h, render.AlignRight, render.FaceRegular, b.Name+" "+s.number(100*of(b))+" %")
	y -= 1.5
	whole := geometry.Box{Min: geometry.Point{X: box.Min.X, Y: y - 3.5}, Max: geometry.Point{X: box.Max.X, Y: y}}
	part := whole
	part.Max.X = whole.Min.X + share*whole.Width()
	if share > 0.005 {
		s.items = append(s.items, render.Item{Layer: render.LayerPlot, View: render.NoView, Role: "bar",
			Path: &render.Path{Edges: rectangle(part), Closed: true, Fill: &render.Ink{R: 90, G: 90, B: 90}}})
	}
	s.rect("bar", whole, s.style.NarrowLine())
	return y - 3.5 - 3
}

// keyLine is a line of the key.
type keyLine struct {
	pen  *render.Stroke
	text string
}

func (s *sheet) key() []keyLine {
	out := []keyLine{{&render.Stroke{Width: fusedWidth}, "fused: over the liquidus of each metal"}}
	if s.job.oneLiquidus() && len(s.job.Liquidus) > 0 {
		out[0].text = s.degrees(s.job.Liquidus[0]) + ", liquidus: fused"
	}
	for i := len(s.job.Picture.Isotherms) - 1; i >= 0; i-- {
		iso := &s.job.Picture.Isotherms[i]
		if slices.Contains(s.job.Liquidus, iso.Level) {
			continue
		}
		text := s.degrees(iso.Level)
		if slices.Contains(s.job.Solidus, iso.Level) {
			text += ", solidus"
		}
		reach := s.style.Numbers.Length(math.Round(iso.Reach[0]*10)/10) + " and " + s.style.Numbers.Length(math.Round(iso.Reach[1]*10)/10) + " " + s.style.Numbers.Name()
		switch {
		case iso.Beyond:
			text += ": beyond the mesh"
		case iso.Reach[0] > 0 || iso.Reach[1] > 0:
			text += ": " + reach
		}
		out = append(out, keyLine{s.job.pen(s.style, iso.Level), text})
	}
	return out
}

// blockPitch is the height of a row of the title block, mm.
const blockPitch = 4.4

// blockRows are the rows of the title block; the first is left for the scale.
func (s *sheet) blockRows() []Line {
	rows := append([]Line{{}}, s.job.Data...)
	if s.job.Company != "" {
		rows = append(rows, Line{s.job.Company, ""})
	}
	if s.job.Digest != "" {
		rows = append(rows, Line{s.style.Word("field.digest"), s.job.Digest})
	}
	return rows
}

// block draws the title block in the lower right corner.
func (s *sheet) block(rows []Line, box geometry.Box) {
	h := s.style.SmallHeight
	foot := geometry.Box{Min: geometry.Point{X: box.Max.X - column, Y: box.Min.Y}, Max: geometry.Point{X: box.Max.X, Y: box.Min.Y + blockPitch*float64(len(rows))}}
	s.rect("block", foot, &render.Stroke{Width: 0.35})
	for i, r := range rows {
		y := foot.Max.Y - float64(i+1)*blockPitch
		if i > 0 {
			s.line("block", geometry.Point{X: foot.Min.X, Y: y + blockPitch}, geometry.Point{X: foot.Max.X, Y: y + blockPitch}, &render.Stroke{Width: 0.18})
		}
		label := shorten(r.Label, h, foot.Width()-3)
		s.text("block", foot.Min.X+1.5, y+1.1, h, render.AlignLeft, render.FaceRegular, label)
		room := foot.Width() - 6 - lettering.Measure(label, render.FaceRegular, h)
		s.text("block", foot.Max.X-1.5, y+1.1, h, render.AlignRight, render.FaceRegular, shorten(r.Value, h, room))
	}
}

// number letters a whole number.
func (s *sheet) number(v float64) string { return s.style.Numbers.Number(v, 0) }

// degrees letters a temperature; °F stand beside °C where lengths are in inches.
func (s *sheet) degrees(v float64) string {
	return heat.Degrees(v, s.style.Numbers.Unit == geometry.UnitInch)
}

// place is a spot of the section with the points of the picture that lie on it.
type place struct {
	letter string
	at     geometry.Point
	points []int
}

// places letters the watched points: those at one spot share a letter.
func (j *Job) places() []place {
	var out []place
	for i := range j.Picture.Points {
		p := j.Picture.Points[i].At
		k := slices.IndexFunc(out, func(o place) bool { return o.at.Dist(p) < 0.05 })
		if k < 0 {
			k = len(out)
			out = append(out, place{letter: string(rune('A' + k%26)), at: p})
		}
		out[k].points = append(out[k].points, i)
	}
	return out
}

func (j *Job) oneLiquidus() bool {
	for _, t := range j.Liquidus {
		if t != j.Liquidus[0] {
			return false
		}
	}
	return true
}

func (j *Job) fusedText() string {
	if !j.oneLiquidus() || len(j.Liquidus) == 0 {
		return "fused"
	}
	return fmt.Sprintf("%.0f", j.Liquidus[0])
}

// dashes tell isotherms apart, from the hottest down; they repeat.
var dashes = [][]float64{
	{5, 1.2}, {3, 0.9, 0.5, 0.9}, {1.6, 0.9}, {5, 0.9, 0.5, 0.9, 0.5, 0.9}, {0.5, 0.9}, {3, 0.8, 1, 0.8},
}

// pen is the line of a temperature: solid at a solidus, else one of the dashes.
func (j *Job) pen(style *render.Style, level float64) *render.Stroke {
	if slices.Contains(j.Solidus, level) {
		return &render.Stroke{Width: style.Lettering}
	}
	rank := 0
	for i := range j.Picture.Isotherms {
		l := j.Picture.Isotherms[i].Level
		if l > level && !slices.Contains(j.Solidus, l) && !slices.Contains(j.Liquidus, l) {
			rank++
		}
	}
	return &render.Stroke{Width: style.Narrow, Dash: dashes[rank%len(dashes)]}
}

// shorten cuts a text to a width with an ellipsis.
func shorten(text string, height, width float64) string {
	text, _ = lettering.Clip(text, render.FaceRegular, height, width)
	return text
}
