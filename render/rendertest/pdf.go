package rendertest

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"
)

// PDF is what a test wants to know of a PDF file with a plain table of objects,
// as this project writes them.
type PDF struct {
	Objects map[int]string // the text of every object, streams unpacked
	Trailer string
	Boxes   [][4]float64 // media boxes of the pages in points, in page order
}

var (
	startxref = regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n$`)
	section   = regexp.MustCompile(`^xref\n0 (\d+)\n`)
	length    = regexp.MustCompile(`/Length (\d+)>>stream\n`)
	reference = regexp.MustCompile(`(\d+) 0 R`)
	kids      = regexp.MustCompile(`/Kids\[([^\]]*)\]`)
	mediaBox  = regexp.MustCompile(`/MediaBox\[([-0-9.]+) ([-0-9.]+) ([-0-9.]+) ([-0-9.]+)\]`)
)

// ReadPDF reads a PDF file by its table of objects and fails the test when an
// object is not where the table says, or a stream does not unpack.
func ReadPDF(tb testing.TB, data []byte) PDF {
	tb.Helper()
	p, err := parsePDF(data)
	if err != nil {
		tb.Fatalf("reading PDF: %v", err)
	}
	return p
}

func parsePDF(data []byte) (PDF, error) {
	p := PDF{Objects: make(map[int]string)}
	if !bytes.HasPrefix(data, []byte("%PDF-1.")) {
		return p, fmt.Errorf("no PDF header")
	}
	m := startxref.FindSubmatch(data)
	if m == nil {
		return p, fmt.Errorf("no startxref at the end")
	}
	at, err := strconv.Atoi(string(m[1]))
	if err != nil || at > len(data) {
		return p, fmt.Errorf("table of objects at %s, file of %d bytes", m[1], len(data))
	}
	table := data[at:]
	head := section.FindSubmatch(table)
	if head == nil {
		return p, fmt.Errorf("no table of objects at %d", at)
	}
	count, err := strconv.Atoi(string(head[1]))
	const entry = 20
	rows := table[len(head[0]):]
	if err != nil || len(rows) < count*entry {
		return p, fmt.Errorf("table of %s objects is cut off", head[1])
	}
	for n := 1; n < count; n++ {
		offset, err := strconv.Atoi(string(rows[n*entry : n*entry+10]))
		if err != nil || offset > len(data) {
			return p, fmt.Errorf("object %d: bad place %q", n, rows[n*entry:n*entry+10])
		}
		if p.Objects[n], err = object(data[offset:], n); err != nil {
			return p, err
		}
	}
	p.Trailer = string(rows[count*entry:])
	return p, p.pages()
}

// object reads one object, unpacking its stream.
func object(data []byte, n int) (string, error) {
	mark := fmt.Sprintf("%d 0 obj\n", n)
	if !bytes.HasPrefix(data, []byte(mark)) {
		return "", fmt.Errorf("object %d is not where the table says", n)
	}
	data = data[len(mark):]
	end := bytes.Index(data, []byte("\nendobj\n"))
	stream := bytes.Index(data, []byte(">>stream\n"))
	if end < 0 {
		return "", fmt.Errorf("object %d has no end", n)
	}
	if stream < 0 || stream > end {
		return string(data[:end]), nil
	}
	m := length.FindSubmatch(data)
	if m == nil {
		return "", fmt.Errorf("object %d: stream without a length", n)
	}
	size, err := strconv.Atoi(string(m[1]))
	body := data[stream+len(">>stream\n"):]
	if err != nil || len(body) < size || !bytes.HasPrefix(body[size:], []byte("\nendstream\nendobj\n")) {
		return "", fmt.Errorf("object %d: stream is not %s bytes long", n, m[1])
	}
	z, err := zlib.NewReader(bytes.NewReader(body[:size]))
	if err != nil {
		return "", fmt.Errorf("object %d: %w", n, err)
	}
	plain, err := io.ReadAll(z)
	if err != nil {
		return "", fmt.Errorf("object %d: %w", n, err)
	}
	return string(data[:stream]) + ">>stream\n" + string(plain), nil
}

// pages follows the catalog to the pages.
func (p *PDF) pages() error {
	root, err := p.follow(p.Trailer, "/Root ")
	if err != nil {
		return err
	}
	tree, err := p.follow(root, "/Pages ")
	if err != nil {
		return err
	}
	list := kids.FindStringSubmatch(tree)
	if list == nil {
		return fmt.Errorf("no pages")
	}
	for _, m := range reference.FindAllStringSubmatch(list[1], -1) {
		n, err := strconv.Atoi(m[1])
		if err != nil {
			return err
		}
		box := mediaBox.FindStringSubmatch(p.Objects[n])
		if box == nil {
			return fmt.Errorf("page object %d has no media box", n)
		}
		var values [4]float64
		for i := range values {
			if values[i], err = strconv.ParseFloat(box[i+1], 64); err != nil {
				return err
			}
		}
		p.Boxes = append(p.Boxes, values)
	}
	return nil
}

// follow gives the object a key of a dictionary refers to.
func (p *PDF) follow(dict, key string) (string, error) {
	m := regexp.MustCompile(regexp.QuoteMeta(key) + `(\d+) 0 R`).FindStringSubmatch(dict)
	if m == nil {
		return "", fmt.Errorf("no %s", key)
	}
	n, err := strconv.Atoi(m[1])
	if err != nil {
		return "", err
	}
	object, ok := p.Objects[n]
	if !ok {
		return "", fmt.Errorf("%s points at object %d, which is not there", key, n)
	}
	return object, nil
}

// Catalog and Info give the text of the catalog and of the information about
// the document.
func (p *PDF) Catalog(tb testing.TB) string {
	tb.Helper()
	return p.must(tb, "/Root ")
}

// Info gives the text of the information about the document.
func (p *PDF) Info(tb testing.TB) string {
	tb.Helper()
	return p.must(tb, "/Info ")
}

func (p *PDF) must(tb testing.TB, key string) string {
	tb.Helper()
	s, err := p.follow(p.Trailer, key)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

// PDFText gives the text of a PDF file as a viewer finds it. It needs the
// program pdftotext and skips the test, saying so, where there is none.
func PDFText(tb testing.TB, data []byte) string {
	tb.Helper()
	return string(Tool(tb, data, "in.pdf", "pdftotext", "-layout", "-enc", "UTF-8", "in.pdf", "-"))
}

// Tool runs a program with a file of the given name and content in its
// directory and gives what it prints. It skips the test, saying so, where the
// program is not installed.
func Tool(tb testing.TB, data []byte, name, program string, args ...string) []byte {
	tb.Helper()
	path, err := exec.LookPath(program)
	if err != nil {
		tb.Skipf("%s is not installed; this check needs it", program)
	}
	dir := tb.TempDir()
	if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
		tb.Fatal(err)
	}
	cmd := exec.CommandContext(tb.Context(), path, args...) //nolint:gosec // programs named by tests
	cmd.Dir = dir
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		tb.Fatalf("%s: %v\n%s", program, err, stderr.Bytes())
	}
	if stderr.Len() > 0 {
		tb.Errorf("%s complains: %s", program, stderr.Bytes())
	}
	return out
}
