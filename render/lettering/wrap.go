package lettering

import "strings"

// Wrap breaks a text at a capital height into lines no wider than width, both in
// mm. A unit or the sign of a diameter stays with its number; a word too long for a line is broken.
func Wrap(text string, face Face, height, width float64) []string {
	var lines []string
	line, wide := "", 0.0
	space := Measure(" ", face, height)
	for _, word := range Words(text) {
		// Words come again and again, lines do not: a line is measured whole
		// only where its words alone leave a doubt.
		next, sum := word, Measure(word, face, height)
		if line != "" {
			next, sum = line+" "+word, wide+space+sum
		}
		if sum <= width-kerning || sum <= width+kerning && Measure(next, face, height) <= width {
			line, wide = next, sum
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for Measure(word, face, height) > width {
			n := fitting(word, face, height, width)
			if n == len(word) {
				break // a character is as narrow as it gets
			}
			lines = append(lines, word[:n])
			word = word[n:]
		}
		line, wide = word, Measure(word, face, height)
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
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
		switch strings.TrimRight(word, ".,;:)") {
		case "%", "°C", "°F", "W", "A", "V", "mm", "in", "mm²", "kg", "m":
			if n > 0 && endsInDigit(list[n-1]) {
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
