package pdf

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"unicode/utf16"

	"fay/render/internal/number"
	"fay/render/lettering"
)

// font is a font of the lettering as one file uses it.
type font struct {
	usage  // of all pages
	ref    ref
	glyphs []lettering.Glyph // used glyphs in their order
}

func newFont(source *lettering.Font) *font {
	return &font{usage: usage{source, make(map[lettering.Glyph]rune)}}
}

// nameOf is the name of a font in the resources.
func nameOf(f *lettering.Font) string { return "F" + strconv.Itoa(f.Index) }

// embed writes the font: a composite font (ISO 32000-1, 9.7) whose codes are the
// glyph numbers of the lettering's own font, so that a page's content does not
// hang on what other pages use.
func (d *document) embed(f *font) error {
	f.glyphs = slices.Sorted(maps.Keys(f.runes))
	program, err := f.font.Subset(f.glyphs)
	if err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	kind, key, entries, toGlyph := "CIDFontType0", "FontFile3", "/Subtype/CIDFontType0C", ""
	if !program.CFF {
		kind, key, entries = "CIDFontType2", "FontFile2", fmt.Sprintf("/Length1 %d", len(program.Data))
		toGlyph = fmt.Sprintf("/CIDToGIDMap %d 0 R", d.stream("", f.toProgram(program.Codes)))
	}
	data := d.stream(entries, program.Data)
	unicode := d.stream("", f.unicode())
	// The tag of six letters tells subsets of a font apart within one file.
	base := fmt.Sprintf("SUBSE%s+%s", string("ABCD"[f.font.Index]), f.font.Name)

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
		d.printf("%d[", g)
		d.number(f.font.Advance(g)*1000/f.font.Units, 2)
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

// toProgram is the table from codes to the glyphs of the embedded program, two
// bytes a code.
func (f *font) toProgram(numbers []int) []byte {
	var table []byte
	if n := len(f.glyphs); n > 0 {
		table = make([]byte, 2*(int(f.glyphs[n-1])+1))
	}
	for i, g := range f.glyphs {
		binary.BigEndian.PutUint16(table[2*int(g):], uint16(numbers[i])) //nolint:gosec // a font has at most 65536 glyphs
	}
	return table
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
			fmt.Fprintf(&b, "<%04X><", g)
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
func (c *content) show(run lettering.Run, height float64) {
	perEm := 1000 / run.Font.Units
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
			c.Number(g.DY*run.Font.Scale(height), 3)
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
		c.Code(int(g.Glyph))
		shift += g.DX + run.Font.Advance(g.Glyph) - g.Advance
	}
	if open {
		c.Byte('>')
	}
	c.Text("]TJ")
	if rise != 0 {
		c.Text(" 0 Ts")
	}
}
