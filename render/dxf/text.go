package dxf

import (
	"strings"
	"unicode/utf8"
)

// longest is the length of a text in bytes as the file spells it; release 12
// takes 255.
const longest = 250

// piece is a part of a text as the file spells it, with where it ends in the
// text.
type piece struct {
	code string
	end  int
}

// plainer are the characters that ASCII has a sign for: readers of release 12
// know no others than the three with a code of their own.
var plainer = map[rune]string{
	'\u2212': "-", '\u2010': "-", '\u2011': "-", '–': "-", '—': "-", '×': "x", '·': "*", '≤': "<=", '≥': ">=", '…': "...", '→': "->",
	'²': "2", '³': "3", '‘': "'", '’': "'", '“': `"`, '”': `"`, '\u00A0': " ", '\u202F': " ", '✗': "x",
}

// pieces spells a text for a TEXT entity. Characters beyond ASCII have the
// codes of the format (%%c ⌀, %%d °, %%p ±), a plainer sign where there is one,
// or \U+ and four hexadecimal digits, which later releases read; those beyond
// four digits and broken bytes are U+FFFD. Control characters are
// spaces. What would read as a code and is none is spelt apart: two percent
// signs in a row get a space between them.
func pieces(s string) []piece {
	var out []piece
	var b strings.Builder
	for i := 0; i < len(s); {
		r, size := utf8.DecodeRuneInString(s[i:])
		code := spell(r, strings.HasSuffix(b.String(), "%"), s[i+size:])
		if b.Len()+len(code) > longest {
			out = append(out, piece{b.String(), i})
			b.Reset()
			// A new text starts with no percent sign before it.
			code = spell(r, false, s[i+size:])
		}
		b.WriteString(code)
		i += size
	}
	return append(out, piece{b.String(), len(s)})
}

// spell gives the code of a character; percent says that a percent sign stands
// before it, rest is what follows.
func spell(r rune, percent bool, rest string) string {
	switch {
	case r == '%' && percent:
		return " %"
	case r == '^':
		return "^ " // a caret alone starts the code of a control character
	case r == '\\' && len(rest) > 1 && rest[1] == '+' && strings.ContainsRune("UuMm", rune(rest[0])):
		return `\U+005C`
	case r < ' ' || r == 0x7F:
		return " "
	case r < 0x7F:
		return string(r)
	case plainer[r] != "":
		return plainer[r]
	case percent:
	case r == '⌀':
		return "%%c"
	case r == '°':
		return "%%d"
	case r == '±':
		return "%%p"
	}
	if r > 0xFFFF {
		r = utf8.RuneError
	}
	const digits = "0123456789ABCDEF"
	return `\U+` + string([]byte{digits[r>>12&15], digits[r>>8&15], digits[r>>4&15], digits[r&15]})
}

// blank tells a text that leaves no mark.
func blank(s string) bool { return strings.TrimSpace(s) == "" }
