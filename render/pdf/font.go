package pdf

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"unicode/utf16"

	"fay/render/internal/number"
	"fay/render/lettering"
)

// font is a font of the lettering as one file uses it.
type font struct {
	source *lettering.Font
	name   string // in the resources
	ref    ref
	runes  map[lettering.Glyph]rune // what the used glyphs stand for
	glyphs []lettering.Glyph        // used glyphs in their order
	codes  map[lettering.Glyph]int  // their numbers in the embedded program
}

func newFont(source *lettering.Font) *font {
	return &font{
		source: source,
		name:   fmt.Sprintf("F%d", source.Index),
		runes:  make(map[lettering.Glyph]rune),
	}
}

// embed writes the font: a composite font whose codes are the glyph numbers of
// the embedded program (ISO 32000-1, 9.7).
func (d *document) embed(f *font) error {
	f.glyphs = slices.Sorted(maps.Keys(f.runes))
	program, err := f.source.Subset(f.glyphs)
	if err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	f.codes = make(map[lettering.Glyph]int, len(f.glyphs))
	for i, g := range f.glyphs {
		f.codes[g] = program.Codes[i]
	}
	kind, key, entries, toGlyph := "CIDFontType2", "FontFile2", fmt.Sprintf("/Length1 %d", len(program.Data)), "/CIDToGIDMap/Identity"
	if program.CFF {
		kind, key, entries, toGlyph = "CIDFontType0", "FontFile3", "/Subtype/CIDFontType0C", ""
	}
	data := d.stream(entries, program.Data)
	unicode := d.stream("", f.unicode())
	// The tag of six letters tells subsets of a font apart within one file.
	base := fmt.Sprintf("SUBSE%s+%s", string("ABCD"[f.source.Index]), f.source.Name)

	descriptor := d.next()
	d.begin(descriptor)
	d.printf("<</Type/FontDescriptor/FontName/%s/Flags 4/FontBBox[", base) // 4: symbolic, own encoding
	for _, v := range program.Box {
		d.number(v, 1)
		d.printf(" ")
	}
	// StemV is required and only used to pick a stand-in when a font is not embedded.
	d.printf("]/ItalicAngle 0/StemV 80/Ascent ")
	d.number(program.Ascent, 1)
	d.printf("/Descent ")
	d.number(program.Descent, 1)
	d.printf("/CapHeight ")
	d.number(program.Cap, 1)
	d.printf("/%s %d 0 R>>", key, data)
	d.end()

	descendant := d.next()
	d.begin(descendant)
	d.printf("<</Type/Font/Subtype/%s/BaseFont/%s%s", kind, base, toGlyph)
	d.printf("/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>")
	d.printf("/FontDescriptor %d 0 R/DW 0/W[", descriptor)
	for _, g := range f.glyphs {
		d.printf("%d[", f.codes[g])
		d.number(f.source.Advance(g)*1000/f.source.Units, 2)
		d.printf("]")
	}
	d.printf("]>>")
	d.end()

	f.ref = d.next()
	d.begin(f.ref)
	d.printf("<</Type/Font/Subtype/Type0/BaseFont/%s/Encoding/Identity-H/DescendantFonts[%d 0 R]/ToUnicode %d 0 R>>", base, descendant, unicode)
	d.end()
	return nil
}

// unicode is the table from codes to characters, for selecting and searching.
func (f *font) unicode() []byte {
	var b bytes.Buffer
	b.WriteString("/CIDInit/ProcSet findresource begin 12 dict begin begincmap\n" +
		"/CIDSystemInfo<</Registry(Adobe)/Ordering(UCS)/Supplement 0>>def\n" +
		"/CMapName/Adobe-Identity-UCS def/CMapType 2 def\n" +
		"1 begincodespacerange<0000><FFFF>endcodespacerange\n")
	const block = 100 // entries a block may hold
	for chunk := range slices.Chunk(f.glyphs, block) {
		fmt.Fprintf(&b, "%d beginbfchar\n", len(chunk))
		for _, g := range chunk {
			fmt.Fprintf(&b, "<%04X><", f.codes[g])
			for _, u := range utf16.AppendRune(nil, f.runes[g]) {
				fmt.Fprintf(&b, "%04X", u)
			}
			b.WriteString(">\n")
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap CMapName currentdict/CMap defineresource pop\n" + "end\n" + "end\n")
	return b.Bytes()
}

// show writes a run: codes, and between them what kerning and marks move the
// pen beyond the glyph's own width. Texts are in mm.
func (c *content) show(f *font, run lettering.Run, height float64) {
	perEm := 1000 / f.source.Units
	shift, rise := 0.0, 0.0 // pending move to the left in font units; height over the base line
	open := false
	c.Byte('[')
	for _, g := range run.Glyphs {
		if g.DY != rise {
			if open {
				c.Byte('>')
				open = false
			}
			c.Text("]TJ ")
			c.Number(g.DY*f.source.Scale(height), 3)
			c.Text(" Ts[")
			rise = g.DY
		}
		shift -= g.DX
		if adjust := number.Round(shift*perEm, 2); adjust != 0 {
			if open {
				c.Byte('>')
				open = false
			}
			c.Number(adjust, 2)
			shift -= adjust / perEm
		}
		if !open {
			c.Byte('<')
			open = true
		}
		c.Code(f.codes[g.Glyph])
		shift += g.DX + f.source.Advance(g.Glyph) - g.Advance
	}
	if open {
		c.Byte('>')
	}
	c.Text("]TJ")
	if rise != 0 {
		c.Text(" 0 Ts")
	}
}
