package number

// Buffer collects the text of a file; writing to memory cannot fail.
type Buffer struct{ data []byte }

// NewBuffer makes a buffer with room for some bytes.
func NewBuffer(room int) Buffer { return Buffer{make([]byte, 0, room)} }

// Bytes gives what was written.
func (b *Buffer) Bytes() []byte { return b.data }

// Text appends a text.
func (b *Buffer) Text(s string) { b.data = append(b.data, s...) }

// Byte appends a byte.
func (b *Buffer) Byte(c byte) { b.data = append(b.data, c) }

// Code appends a number below 65536 as four hexadecimal digits.
func (b *Buffer) Code(v int) {
	const digits = "0123456789ABCDEF"
	b.data = append(b.data, digits[v>>12&15], digits[v>>8&15], digits[v>>4&15], digits[v&15])
}

// Number appends v with at most the given decimals, see Append.
func (b *Buffer) Number(v float64, decimals int) { b.data = Append(b.data, v, decimals) }
