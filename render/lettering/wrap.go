package lettering

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Wrap breaks a text at a capital height into lines no wider than width, both in
// mm. A unit or the sign of a diameter stays with its number; a word too long for
// a line is broken, one of letters with a hyphen and not near its end.
func Wrap(text string, face Face, height, width float64) []string {
	var lines []string
	list := Words(text)
	first, wide := 0, 0.0 // word of the line, and its width so far
	space := Measure(" ", face, height)
	for i, word := range list {
		// Words come again and again, lines do not: a line is measured whole
		// only where its words alone leave a doubt.
		sum := Measure(word, face, height)
		if i > first {
			sum = wide + space + sum
		}
		if sum <= width-kerning || sum <= width+kerning && Measure(strings.Join(list[first:i+1], " "), face, height) <= width {
			wide = sum
			continue
		}
		if i > first {
			lines = append(lines, strings.Join(list[first:i], " "))
		}
		for Measure(word, face, height) > width {
			n := fitting(word, face, height, width)
			if n == len(word) {
				break // a character is as narrow as it gets
			}
			head := word[:n]
			if k := hyphenated(word, face, height, width); k > 0 {
				head, n = word[:k]+"-", k
			}
			lines = append(lines, head)
			word = word[n:]
		}
		list[i] = word
		first, wide = i, Measure(word, face, height)
	}
	if first < len(list) {
		lines = append(lines, strings.Join(list[first:], " "))
	}
	return lines
}

// hyphenated is the number of bytes of a word of letters that fit a width with a
// hyphen, and leave a syllable's worth on either side; 0 where none do.
func hyphenated(word string, face Face, height, width float64) int {
	const least = 4 // letters on either side
	if strings.ContainsFunc(word, func(r rune) bool { return !unicode.IsLetter(r) }) {
		return 0
	}
	fits, n := 0, 0
	letters := utf8.RuneCountInString(word)
	for i := range word {
		if n >= least && letters-n >= least && Measure(word[:i]+"-", face, height) <= width {
			fits = i
		}
		n++
	}
	return fits
}

// kerning is more than the letters on both sides of the spaces of a line move
// it, mm.
const kerning = 0.5

// Words are those of a text, a unit or the sign of a diameter together with its
// number.
func Words(text string) []string {
	list := strings.Fields(text)
	n := 0
	for _, word := range list {
		if n > 0 && list[n-1] == "⌀" {
			list[n-1] += " " + word
			continue
		}
		if n > 0 && endsInDigit(list[n-1]) {
			switch strings.TrimRight(word, ".,;:)") {
			case "%", "°C", "°F", "W", "A", "V", "mm", "in", "mm²", "kg", "m":
				list[n-1] += " " + word
				continue
			}
		}
		list[n] = word
		n++
	}
	return list[:n]
}

func endsInDigit(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

// fitting is the number of bytes of a text that fit a width: one character at
// least.
func fitting(text string, face Face, height, width float64) int {
	n := 0
	for i, r := range text {
		end := i + len(string(r))
		if i > 0 && Measure(text[:end], face, height) > width {
			return n
		}
		n = end
	}
	return n
}

// Clip cuts a text to a width with an ellipsis, and tells whether it had to.
func Clip(text string, face Face, height, width float64) (string, bool) {
	if Measure(text, face, height) <= width {
		return text, false
	}
	room := width - Measure("…", face, height)
	return strings.TrimRight(text[:fitting(text, face, height, room)], " ,;") + "…", true
}
