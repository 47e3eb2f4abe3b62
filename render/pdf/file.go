package pdf

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"fmt"
	"strings"
	"sync"
	"unicode/utf16"

	"fay/render/internal/number"
)

// ref is the number of an object.
type ref int

// file is a PDF file in the making: objects one after the other, then the table
// of their places.
type file struct {
	buf     bytes.Buffer
	offsets []int // by object number less one
}

func newFile() *file {
	f := &file{offsets: make([]int, reserved)}
	// The comment of high bytes tells transfer programs that the file is binary.
	f.buf.WriteString("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n")
	return f
}

func (f *file) bytes() []byte { return f.buf.Bytes() }

func (f *file) printf(format string, args ...any) { fmt.Fprintf(&f.buf, format, args...) }

func (f *file) number(v float64, decimals int) {
	f.buf.Write(number.Append(f.buf.AvailableBuffer(), v, decimals))
}

// next gives the number for a new object.
func (f *file) next() ref {
	f.offsets = append(f.offsets, 0)
	return ref(len(f.offsets))
}

func (f *file) begin(r ref) {
	f.offsets[r-1] = f.buf.Len()
	f.printf("%d 0 obj\n", r)
}

func (f *file) end() { f.buf.WriteString("\nendobj\n") }

// stream writes a compressed stream; entries are further entries of its
// dictionary.
func (f *file) stream(entries string, data []byte) ref { return f.packed(entries, pack(data)) }

// packed writes a stream that is compressed already.
func (f *file) packed(entries string, data []byte) ref {
	r := f.next()
	f.begin(r)
	f.printf("<<%s/Filter/FlateDecode/Length %d>>stream\n", entries, len(data))
	f.buf.Write(data)
	f.buf.WriteString("\nendstream")
	f.end()
	return r
}

// packers keeps writers, whose tables are far larger than a page. The fastest
// level packs pages and fonts as small as the default one, in a third of the
// time.
var packers = sync.Pool{New: func() any {
	z, err := zlib.NewWriterLevel(nil, zlib.BestSpeed)
	if err != nil {
		panic("pdf: " + err.Error()) // the level is a constant
	}
	return z
}}

func pack(data []byte) []byte {
	z, ok := packers.Get().(*zlib.Writer)
	if !ok {
		panic("pdf: a pool of other things than it was made for")
	}
	defer packers.Put(z)
	var b bytes.Buffer
	z.Reset(&b)
	// A bytes.Buffer takes everything.
	_, _ = z.Write(data)
	_ = z.Close()
	return b.Bytes()
}

// finish writes the table of objects and the trailer. The file's identity is a
// hash of its content, so that it is the same on every run.
func (f *file) finish() {
	id := sha256.Sum256(f.buf.Bytes())
	start := f.buf.Len()
	f.printf("xref\n0 %d\n0000000000 65535 f \n", len(f.offsets)+1)
	for _, o := range f.offsets {
		f.printf("%010d 00000 n \n", o)
	}
	f.printf("trailer\n<</Size %d/Root %d 0 R/Info %d 0 R/ID[<%X><%X>]>>\n", len(f.offsets)+1, refCatalog, refInfo, id[:16], id[:16])
	f.printf("startxref\n%d\n%%%%EOF\n", start)
}

// text writes a text string object: as it is when printable ASCII, else UTF-16.
func text(s string) string {
	var b strings.Builder
	for _, r := range s {
		if r < ' ' || r > '~' {
			return wide(s)
		}
		if strings.ContainsRune(`()\`, r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return "(" + b.String() + ")"
}

func wide(s string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	return b.String() + ">"
}
