package dxf

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"fay/render"

	"github.com/google/go-cmp/cmp"
)

func TestPieces(t *testing.T) {
	for _, test := range []struct{ name, content, want string }{
		{"plain", "leg 5.0", "leg 5.0"},
		{"signs of the format", "⌀12 ±0.5 60°", "%%c12 %%p0.5 60%%d"},
		{"signs that ASCII has", "0,2 +0,3 −0,2 ≤ 3 × 4 mm²…", "0,2 +0,3 -0,2 <= 3 x 4 mm2..."},
		{"others by number", "a é ξ", `a \U+00E9 \U+03BE`},
		{"percent", "50 % of 3%", "50 % of 3%"},
		{"what looks like a code is none", "%%c %%%", "% %c % % %"},
		{"sign after a percent", "%°", `%\U+00B0`},
		{"backslash", `C:\U+00B0 \x \m+1`, `C:\U+005CU+00B0 \x \U+005Cm+1`},
		{"caret", "a^2", "a^ 2"},
		{"controls are spaces", "a\nb\tc\x7f", "a b c "},
		{"beyond four digits", "👩", `\U+FFFD`},
		{"broken bytes", "a\xffb", `a\U+FFFDb`},
	} {
		t.Run(test.name, func(t *testing.T) {
			want := []piece{{test.want, len(test.content)}}
			if d := cmp.Diff(want, pieces(test.content), cmp.AllowUnexported(piece{})); d != "" {
				t.Error(d)
			}
		})
	}
}

var escape = regexp.MustCompile(`\\U\+([0-9A-F]{4})`)

// decode reads a text back as a reader of the format does: numbered
// characters, carets, codes with percent signs.
func decode(tb testing.TB, s string) string {
	tb.Helper()
	s = strings.ReplaceAll(s, "^ ", "\x00")
	if strings.Contains(s, "^") {
		tb.Errorf("caret that is a code in %q", s)
	}
	s = strings.ReplaceAll(s, "\x00", "^")
	s = strings.NewReplacer("%%c", "⌀", "%%d", "°", "%%p", "±").Replace(s)
	if strings.Contains(s, "%%") {
		tb.Errorf("percent signs that are a code in %q", s)
	}
	return escape.ReplaceAllStringFunc(s, func(m string) string {
		n, err := strconv.ParseUint(m[3:], 16, 16)
		if err != nil {
			tb.Error(err)
		}
		return string(rune(n))
	})
}

// plain is what is left of a text in a file.
func plain(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r > 0xFFFF:
			r = utf8.RuneError
		case r < ' ' || r == 0x7F:
			r = ' '
		case r == '%' && strings.HasSuffix(b.String(), "%"):
			b.WriteByte(' ')
		}
		if sign, ok := plainer[r]; ok {
			b.WriteString(sign)
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}

// FuzzText writes any text: no panic, pure ASCII in short lines, the groups
// sound, and the text comes back but for what the format cannot hold.
func FuzzText(f *testing.F) {
	for _, s := range []string{
		"5.0 ±0.5", "⌀12 ≤ 60°", "%%c%%%d", "%°%%±", `\U+00B0\M+1`, "^I^ ^^", "a\x00b\x1b\x7f\r\n", "\xff\xfe", "שלום 12", "焊接",
		"👩‍🔧🏽", "e\u0301\u0301", "\u202e\u2066abc", "\uFFFE\uFFFF\uFFFD", "  ", strings.Repeat("ß%", 300), strings.Repeat("x", 251),
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, content string) {
		if len(content) > render.MaxText {
			t.Skip("longer than a drawing takes")
		}
		d := pathAt(2, pt(10, 10), render.Path{})
		d.Title = content
		d.Items = []render.Item{
			{Layer: render.LayerText, Text: &render.Text{Height: 2.5, Content: content, Angle: 1}},
			{Layer: render.LayerText, Text: &render.Text{Height: 2.5, Content: "end"}},
		}
		var got string
		records := sound(t, write(t, d, Options{}))["ENTITIES"][1:]
		for _, r := range records[:len(records)-1] {
			if r.text(1) != "" {
				got += decode(t, r.text(1))
			}
		}
		want := plain(content)
		if blank(content) {
			want = ""
		}
		// Between two pieces no space is needed to part percent signs.
		if len(records) == 2 && got != want || strings.ReplaceAll(got, " ", "") != strings.ReplaceAll(want, " ", "") {
			t.Errorf("want %q, got %q", want, got)
		}
	})
}
