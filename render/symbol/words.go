package symbol

import (
	"strings"

	"fay/geometry"
	"fay/joints"
	"fay/render"
)

// writer letters the numbers of a symbol in a style.
type writer struct {
	s  *Symbol
	st *render.Style
}

func (w *writer) length(l geometry.Length) string { return w.st.Numbers.Length(float64(l)) }

func (w *writer) opt(prefix string, o joints.Opt) string {
	if !o.Present {
		return ""
	}
	return prefix + w.length(o.Value)
}

// groove is the size left of a groove's glyph: S(E), or h and s.
func (w *writer) groove(s *Side) string {
	if w.s.System == AWS {
		size := w.opt("", s.Depth)
		if s.Effective.Present {
			size += "(" + w.length(s.Effective.Value) + ")"
		}
		if size == "" {
			size = w.opt("", s.Size)
		}
		return size
	}
	size := strings.TrimSpace(w.opt("h", s.Depth) + " " + w.opt("s", s.Effective))
	if size == "" {
		size = w.opt("", s.Size)
	}
	return size
}

// fillet is the size left of a fillet's glyph.
func (w *writer) fillet(s *Side) string {
	if s.Throat.Present {
		return strings.TrimSpace(w.opt("s", s.Deep) + " " + w.opt("a", s.Throat))
	}
	if s.Legs == nil {
		return w.opt("", s.Size)
	}
	letter := ""
	if w.s.System != AWS {
		letter = "z"
	}
	size := letter + w.length(s.Legs.Length[0])
	if !s.Legs.Equal() {
		size += "×" + letter + w.length(s.Legs.Length[1])
	}
	return size
}

// run is the length right of the glyph, and what follows the Z of a staggered
// weld in ISO 2553.
func (w *writer) run(r *Run) (first, second string) {
	switch {
	case r == nil:
		return "", ""
	case r.Pitch == 0:
		return w.length(r.Segment), ""
	case w.s.System == AWS:
		first = w.length(r.Segment) + "–" + w.length(r.Pitch)
		if strings.ContainsAny(first, "-/") {
			first = w.length(r.Segment) + " – " + w.length(r.Pitch)
		}
		return first, ""
	}
	return w.st.Numbers.Number(float64(r.Segments), 0) + "×" + w.length(r.Segment), "(" + w.length(r.Gap()) + ")"
}

// backing is the letter in the backing glyph.
func (w *writer) backing(k joints.BackingKind) string {
	switch {
	case w.s.System == AWS && k == joints.BackingStrip:
		return ""
	case w.s.System == AWS:
		return "R"
	case k == joints.BackingStrip:
		return "M"
	}
	return "MR"
}

// tail gives the lines in the fork: the first, of one entry, in full height;
// several entries are lettered small like the others, to keep the symbol short.
func (w *writer) tail() (first string, rest []string) {
	s := w.s
	t := &s.Tail
	var entries []string
	for _, e := range []string{t.Process, t.Level, t.Position, t.Filler, t.WPS} {
		if e != "" {
			entries = append(entries, e)
		}
	}
	separator := " / "
	if s.System == AWS {
		separator = ", "
	}
	if len(entries) == 1 {
		first = entries[0]
	} else if len(entries) > 1 {
		rest = append(rest, strings.Join(entries, separator))
	}
	if s.System == AWS && s.full() {
		rest = append(rest, "CJP")
	}
	rest = append(rest, w.legs()...)
	rest = append(rest, w.deep()...)
	if s.Skewed {
		rest = append(rest, "legs along members")
	}
	if s.RootFace.Present {
		rest = append(rest, w.st.Word("measure.root-face")+" "+w.length(s.RootFace.Value))
	}
	rest = append(rest, w.radii()...)
	rest = append(rest, w.each(func(s *Side) string { return w.opt("slot ", s.Slot) })...)
	if b := s.Sides[1].Backing; b != "" {
		rest = append(rest, "backing "+string(b))
		if h := s.Sides[1].MeltThrough; h.Present {
			rest = append(rest, w.st.Word("measure.root height")+" "+w.length(h.Value))
		}
	}
	if s.Tabled {
		rest = append(rest, "lengths as tabled")
	}
	if s.Places > 1 {
		rest = append(rest, w.st.Numbers.Number(float64(s.Places), 0)+" places")
	}
	return first, append(rest, t.Notes...)
}

// full tells whether a groove is welded through.
func (s *Symbol) full() bool {
	for i := range s.Sides {
		if s.Sides[i].Full {
			return true
		}
	}
	return false
}

// sideWord starts a note that holds for one side where both have one.
func (w *writer) sideWord(i int, both bool) string {
	if !both {
		return ""
	}
	return w.st.Word([2]string{"weld.arrow", "weld.other"}[i]) + " "
}

// legs says which leg lies on which member: the glyph does not.
func (w *writer) legs() []string {
	note := func(s *Side) string {
		if s.Legs == nil || s.Legs.Equal() {
			return ""
		}
		word := func(i int) string {
			return w.length(s.Legs.Length[i]) + " " + w.st.Word("member."+w.s.Members[s.Legs.On[i]])
		}
		return word(0) + " × " + word(1)
	}
	return w.each(note)
}

// deep gives the effective throat with proven penetration where the size does
// not.
func (w *writer) deep() []string {
	return w.each(func(s *Side) string {
		if !s.Deep.Present || s.Throat.Present {
			return ""
		}
		return w.st.Word("dimension.effective throat") + " " + w.length(s.Deep.Value) + " proven"
	})
}

func (w *writer) radii() []string {
	note := func(s *Side) string {
		a, b := s.RootRadius[0], s.RootRadius[1]
		name := w.st.Word("measure.root-radius") + " "
		switch {
		case !a.Present && !b.Present:
			return ""
		case a.Present && b.Present && !sameOpt(a, b):
			return name + w.length(a.Value) + " " + w.st.Word("member."+w.s.Members[0]) + ", " +
				w.length(b.Value) + " " + w.st.Word("member."+w.s.Members[1])
		case !a.Present:
			a = b
		}
		return name + w.length(a.Value)
	}
	return w.each(note)
}

// each writes a note of both sides, once where they say the same.
func (w *writer) each(note func(*Side) string) []string {
	notes := [2]string{note(&w.s.Sides[0]), note(&w.s.Sides[1])}
	both := w.s.Sides[0].Glyph != "" && w.s.Sides[1].Glyph != ""
	if notes[0] == notes[1] {
		both, notes[1] = false, ""
	}
	var out []string
	for i, n := range notes {
		if n != "" {
			out = append(out, w.sideWord(i, both)+n)
		}
	}
	return out
}
