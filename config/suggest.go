package config

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
)

// ErrUnknownName marks a look-up that found nothing; test with errors.Is.
var ErrUnknownName = errors.New("not on file")

// UnknownNameError is a look-up that found nothing.
type UnknownNameError struct {
	What    string // what was looked for: filler, material, process, metal family
	Name    string // the name asked for
	Nearest string // the nearest name on file; empty when none is near
}

// Error names what was asked and the nearest right name.
func (e *UnknownNameError) Error() string {
	msg := fmt.Sprintf("%s %q is not on file", e.What, e.Name)
	if e.Nearest != "" {
		msg += fmt.Sprintf("; did you mean %q?", e.Nearest)
	}
	return msg
}

// Is makes errors.Is(err, ErrUnknownName) hold.
func (e *UnknownNameError) Is(target error) bool { return target == ErrUnknownName }

func unknownName(what, name string, candidates []string) error {
	near, _ := Nearest(name, candidates)
	return &UnknownNameError{What: what, Name: name, Nearest: near}
}

// fold brings a name to the form names are compared in: lower case, letters
// and digits only, so that "EN AW-5083" equals "en aw 5083".
func fold(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, name)
}

// longestName bounds the names compared: longer input cannot be a slip of a
// key and would make the comparison slow.
const longestName = 64

// Nearest returns the candidate with the fewest changed letters from word,
// and whether it is near enough to suggest: at most one change in three
// letters. Case, spaces and punctuation do not count. The first of equals wins.
func Nearest(word string, candidates []string) (string, bool) {
	w := []rune(fold(word))
	if len(w) == 0 || len(w) > longestName {
		return "", false
	}
	best, bestDist := "", len(w)
	for _, c := range candidates {
		if d := editDistance(w, []rune(fold(c))); d < bestDist {
			best, bestDist = c, d
		}
	}
	if best == "" || bestDist > max(1, len(w)/3) {
		return "", false
	}
	return best, true
}

// editDistance counts the insertions, deletions, changes and swaps of
// neighbours that turn a into b (optimal string alignment).
func editDistance(a, b []rune) int {
	prev2 := make([]int, len(b)+1)
	prev := make([]int, len(b)+1)
	cur := make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(b)]
}
