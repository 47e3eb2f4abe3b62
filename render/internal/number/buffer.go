package number

// Buffer collects the text of a file; writing to memory cannot fail.
type Buffer struct{ data []byte }

// NewBuffer makes a buffer with room for some bytes.
func NewBuffer(room int) Buffer { return Buffer{make([]byte, 0, room)} }

// Bytes gives what was written.
func (b *Buffer) Bytes() []byte { return b.data }

// Reset empties the buffer and keeps its room.
func (b *Buffer) Reset() { b.data = b.data[:0] }

// Raw appends bytes.
func (b *Buffer) Raw(p []byte) { b.data = append(b.data, p...) }

// Text appends a text.
func (b *Buffer) Text(s string) { b.data = append(b.data, s...) }

// Byte appends a byte.
func (b *Buffer) Byte(c byte) { b.data = append(b.data, c) }

// Code appends a number below 65536 as four hexadecimal digits.
func (b *Buffer) Code(v int) {
	const digits = "0123456789ABCDEF"
	b.data = append(b.data, digits[v>>12&15], digits[v>>8&15], digits[v>>4&15], digits[v&15])
}

// Hex appends two hexadecimal digits.
func (b *Buffer) Hex(v uint8) {
	const digits = "0123456789abcdef"
	b.data = append(b.data, digits[v>>4], digits[v&15])
}

// Int appends a whole number.
func (b *Buffer) Int(v int64) { b.data = appendScaled(b.data, v, 0) }

// Number appends v with at most the given decimals, see Append.
func (b *Buffer) Number(v float64, decimals int) { b.data = Append(b.data, v, decimals) }
