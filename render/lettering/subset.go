package lettering

import (
	"encoding/binary"
	"errors"
	"fmt"

	"github.com/tdewolff/font"
)

// A Program is a font cut down to some glyphs, ready to be embedded. Lengths
// are thousandths of an em.
type Program struct {
	Data []byte
	// CFF says that the program is a bare Compact Font Format table, else it is
	// a TrueType font.
	CFF bool
	// Codes are the numbers the asked glyphs have in the program.
	Codes                []int
	Box                  [4]float64 // x and y of the lower left, then of the upper right corner
	Ascent, Descent, Cap float64    // Descent is negative
}

// Subset cuts the font down to the given glyphs. The bytes depend on nothing but
// the glyphs and their order.
func (f *Font) Subset(glyphs []Glyph) (Program, error) {
	full := f.face.Font.SFNT
	m := 1000 / f.Units
	p := Program{
		CFF:   full.IsCFF,
		Codes: make([]int, len(glyphs)),
		Box: [4]float64{
			m * float64(full.Head.XMin), m * float64(full.Head.YMin),
			m * float64(full.Head.XMax), m * float64(full.Head.YMax),
		},
		Ascent:  m * float64(full.Hhea.Ascender),
		Descent: m * float64(full.Hhea.Descender),
		Cap:     m * f.Cap,
	}
	var err error
	if p.CFF {
		for i, g := range glyphs {
			p.Codes[i] = int(g)
		}
		p.Data, err = blankCFF(full.Tables["CFF "], glyphs)
	} else {
		for i := range glyphs {
			p.Codes[i] = i + 1 // after the blank glyph 0
		}
		p.Data, err = f.cutTrueType(glyphs)
	}
	if err != nil {
		return Program{}, fmt.Errorf("lettering: cutting %s down to %d glyphs: %w", f.Name, len(glyphs), err)
	}
	return p, nil
}

func (f *Font) cutTrueType(glyphs []Glyph) ([]byte, error) {
	ids := make([]uint16, 1, len(glyphs)+1)
	for _, g := range glyphs {
		ids = append(ids, uint16(g))
	}
	cut, err := f.cut(ids)
	if err != nil {
		return nil, err
	}
	data := cut.Write()
	return data, pinDate(data)
}

// cut has the font library cut the font down. That writes the number of glyphs
// that are left into a table which the whole font goes on to use: each gets its
// own.
func (f *Font) cut(ids []uint16) (*font.SFNT, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	full := f.face.Font.SFNT
	whole := *full.Maxp
	cut, err := full.Subset(ids, font.SubsetOptions{Tables: font.KeepPDFTables})
	if cut != nil {
		left := *full.Maxp
		cut.Maxp = &left
	}
	*full.Maxp = whole
	return cut, err
}

var errCFF = errors.New("font program is not the CFF table expected")

// blankCFF keeps the outlines of the given glyphs and makes every other glyph
// blank. Nothing moves: the index of outlines only gets shorter, and what it
// leaves free is filled with zeros, which pack to nothing. (The font library's
// own cutting refuses most glyphs of these fonts.)
func blankCFF(table []byte, glyphs []Glyph) ([]byte, error) {
	data := append([]byte(nil), table...)
	at, err := outlineIndex(data)
	if err != nil {
		return nil, err
	}
	index, err := readIndex(data, at)
	if err != nil {
		return nil, err
	}
	keep := make(map[int]bool, len(glyphs)+1)
	keep[0] = true
	for _, g := range glyphs {
		keep[int(g)] = true
	}
	const blank = 0x0E // the operator endchar
	var outlines []byte
	for i := range index.count {
		from, to := index.offset(data, i), index.offset(data, i+1)
		if from >= to || to > len(data) {
			return nil, errCFF
		}
		index.setOffset(data, i, len(outlines))
		if keep[i] {
			outlines = append(outlines, data[from:to]...)
		} else {
			outlines = append(outlines, blank)
		}
	}
	end := index.offset(data, index.count)
	index.setOffset(data, index.count, len(outlines))
	n := copy(data[index.data:end], outlines)
	clear(data[index.data+n : end])
	return data, nil
}

// cffIndex is an INDEX of a CFF table: count, size of an offset, offsets
// counted from 1, data.
type cffIndex struct {
	count, size   int
	offsets, data int // where they start
}

func readIndex(b []byte, at int) (cffIndex, error) {
	if at < 0 || len(b) < at+3 {
		return cffIndex{}, errCFF
	}
	x := cffIndex{count: int(binary.BigEndian.Uint16(b[at:])), size: int(b[at+2]), offsets: at + 3}
	x.data = x.offsets + (x.count+1)*x.size
	if x.count == 0 || x.size < 1 || x.size > 4 || len(b) < x.data {
		return cffIndex{}, errCFF
	}
	if end := x.offset(b, x.count); end < x.data || end > len(b) {
		return cffIndex{}, errCFF
	}
	return x, nil
}

// offset gives where entry i starts in the table.
func (x cffIndex) offset(b []byte, i int) int {
	v := 0
	for _, c := range b[x.offsets+i*x.size:][:x.size] {
		v = v<<8 | int(c)
	}
	return x.data + v - 1
}

func (x cffIndex) setOffset(b []byte, i, from int) {
	v := from + 1
	for k := x.size - 1; k >= 0; k-- {
		b[x.offsets+i*x.size+k] = byte(v & 0xFF)
		v >>= 8
	}
}

// outlineIndex finds the index of outlines: header, index of names, index of
// dictionaries, in the first of which operator 17 gives the place (Adobe
// Technical Note 5176, sections 4 to 9). A place is not negative, so operands
// are read without their sign.
func outlineIndex(b []byte) (int, error) {
	if len(b) < 4 {
		return 0, errCFF
	}
	names, err := readIndex(b, int(b[2]))
	if err != nil {
		return 0, err
	}
	dicts, err := readIndex(b, names.offset(b, names.count))
	if err != nil {
		return 0, err
	}
	from, to := dicts.offset(b, 0), dicts.offset(b, 1)
	if from > to || to > len(b) {
		return 0, errCFF
	}
	dict := b[from:to]
	operand := 0
	for len(dict) > 0 {
		const charStrings = 17
		n := 1
		switch c := dict[0]; {
		case c == charStrings:
			return operand, nil
		case c == 12: // operator of two bytes
			n = 2
		case c == 28 && len(dict) >= 3:
			n, operand = 3, int(binary.BigEndian.Uint16(dict[1:]))
		case c == 29 && len(dict) >= 5:
			n, operand = 5, int(binary.BigEndian.Uint32(dict[1:]))
		case c == 30: // real number, half bytes up to an F
			for n < len(dict) && dict[n]&0x0F != 0x0F {
				n++
			}
			n++
		case c >= 32 && c <= 246:
			operand = max(0, int(c)-139)
		case c >= 247 && c <= 250 && len(dict) >= 2:
			n, operand = 2, (int(c)-247)*256+int(dict[1])+108
		case c >= 251 && c <= 254:
			n, operand = 2, 0
		}
		dict = dict[min(n, len(dict)):]
	}
	return 0, errCFF
}

// pinDate replaces the date of change in a font program, which the font
// library sets to the present time, by the date the font was made, and mends
// the two checksums that cover it (OpenType, "head" table).
func pinDate(data []byte) error {
	const (
		record     = 16         // bytes of a table record; the first one follows 12 bytes of header
		magic      = 0xB1B0AFBA // a whole font file sums up to this
		adjustment = 8          // offsets in the head table
		created    = 20
		modified   = 28
		headLength = 54
		padded     = 56 // tables are padded with zeros to whole words
	)
	be := binary.BigEndian
	for i := range int(be.Uint16(data[4:])) {
		entry := data[12+i*record:]
		if string(entry[:4]) != "head" {
			continue
		}
		offset := int(be.Uint32(entry[8:]))
		if len(data) < offset+padded {
			break
		}
		head := data[offset : offset+headLength]
		copy(head[modified:modified+8], head[created:created+8])
		be.PutUint32(head[adjustment:], 0)
		be.PutUint32(entry[4:], checksum(data[offset:offset+padded]))
		be.PutUint32(head[adjustment:], magic-checksum(data))
		return nil
	}
	return errors.New("font program without a head table")
}

// checksum adds big-endian 32-bit words.
func checksum(b []byte) uint32 {
	var sum uint32
	for ; len(b) >= 4; b = b[4:] {
		sum += binary.BigEndian.Uint32(b)
	}
	return sum
}
