package rendertest

import (
	"bytes"
	"strings"
	"testing"
)

func TestCompare(t *testing.T) {
	for _, test := range []struct {
		name, want, got string
		same            bool
	}{
		{"equal", "a 1.5\nb", "a 1.5\nb", true},
		{"last digit rounded the other way", "M1.234 -5", "M1.235 -5", true},
		{"more than rounding", "M1.234 -5", "M1.236 -5", false},
		{"rounded to a whole number", "x 2", "x 1.999", true},
		{"other word", "<path 1", "<line 1", false},
		{"other sign", "1-2", "1 -2", false},
		{"line more", "a\nb", "a\nb\nc", false},
		{"number more", "1 2", "1 2 3", false},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := compare([]byte(test.want), []byte(test.got)); (got == "") != test.same {
				t.Errorf("want same %v, got %q", test.same, got)
			}
		})
	}
}

func TestParsePDFRefuses(t *testing.T) {
	const good = "%PDF-1.7\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n" +
		"2 0 obj\n<</Kids[3 0 R]>>\nendobj\n3 0 obj\n<</MediaBox[0 0 10 20.5]>>\nendobj\n"
	file := func(body string) []byte {
		var b bytes.Buffer
		b.WriteString(body)
		b.WriteString("xref\n0 4\n0000000000 65535 f \n")
		for _, mark := range []string{"1 0 obj", "2 0 obj", "3 0 obj"} {
			b.WriteString("00000" + pad(strings.Index(body, mark)) + " 00000 n \n")
		}
		b.WriteString("trailer\n<</Root 1 0 R>>\nstartxref\n" + pad(len(body)) + "\n%%EOF\n")
		return b.Bytes()
	}
	p, err := parsePDF(file(good))
	if err != nil || len(p.Boxes) != 1 || p.Boxes[0] != [4]float64{0, 0, 10, 20.5} {
		t.Fatalf("good file: %v, %v", p.Boxes, err)
	}
	for name, data := range map[string][]byte{
		"empty":              nil,
		"no table":           []byte(good),
		"object moved":       bytes.Replace(file(good), []byte("2 0 obj"), []byte(" 2 0 ob"), 1),
		"no media box":       file(strings.Replace(good, "MediaBox", "MediaFox", 1)),
		"cut off":            file(good)[:200],
		"page that is not":   file(strings.Replace(good, "3 0 R", "9 0 R", 1)),
		"catalog without it": file(strings.Replace(good, "/Pages", "/Stages", 1)),
	} {
		t.Run(name, func(t *testing.T) {
			if _, err := parsePDF(data); err == nil {
				t.Error("want an error")
			}
		})
	}
}

func pad(n int) string {
	s := "00000"
	for i := len(s) - 1; i >= 0 && n > 0; i-- {
		s = s[:i] + string(rune('0'+n%10)) + s[i+1:]
		n /= 10
	}
	return s
}
