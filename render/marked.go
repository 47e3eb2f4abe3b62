package render

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// pointed finds digits with points between them.
var pointed = regexp.MustCompile(`\d+(?:\.\d+)+`)

// cited are the words behind which a number is a place in a document.
var cited = []string{"section", "table", "clause", "figure", "fig.", "fig", "page", "§", "rule", "version"}

// unitsBehind are the letters that may stand behind a number.
var unitsBehind = []string{"mm", "cm", "m", "in", "ft", "t", "deg", "kg", "W", "kW", "A", "V", "s", "h", "min", "g", "L"}

// mostPlaces of a number in a text; what has more is a name, as the steel
// 1.4301 is.
const mostPlaces = 3

// Marked puts the decimal marker into the numbers of a text that was put
// together elsewhere. Names of rules, documents and alloys keep their points.
func (n Numbers) Marked(text string) string {
	if n.Decimal == "." || !strings.Contains(text, ".") {
		return text
	}
	var b strings.Builder
	end := 0
	for _, at := range pointed.FindAllStringIndex(text, -1) {
		word := text[at[0]:at[1]]
		whole, places, _ := strings.Cut(word, ".")
		if strings.Contains(places, ".") || len(places) > mostPlaces || !free(text[:at[0]], text[at[1]:]) {
			continue
		}
		b.WriteString(text[end:at[0]] + whole + n.Decimal + places)
		end = at[1]
	}
	return b.String() + text[end:]
}

// free reports whether digits between these two texts are a number of their own.
func free(before, after string) bool {
	last, _ := utf8.DecodeLastRuneInString(before)
	if unicode.IsLetter(last) || strings.ContainsRune("./_#", last) && before != "" {
		return false
	}
	if last == '-' {
		if r, _ := utf8.DecodeLastRuneInString(strings.TrimSuffix(before, "-")); unicode.IsLetter(r) || unicode.IsDigit(r) {
			return false
		}
	}
	if words := strings.Fields(before); len(words) > 0 && unicode.IsSpace(last) && slices.Contains(cited, strings.ToLower(words[len(words)-1])) {
		return false
	}
	letters := after
	if i := strings.IndexFunc(after, func(r rune) bool { return !unicode.IsLetter(r) }); i >= 0 {
		letters = after[:i]
	}
	if letters != "" {
		return slices.Contains(unitsBehind, letters)
	}
	next, size := utf8.DecodeRuneInString(after)
	if next == '.' { // the end of a sentence, or of the name of a file
		next, _ = utf8.DecodeRuneInString(after[size:])
		return !unicode.IsLetter(next)
	}
	return after == "" || !strings.ContainsRune("-/_", next)
}
