// Package compare sets alternatives of one joint side by side: what each takes
// of filler, passes, time and money, how much it will pull, what it leaves
// unmet, and which of them stay within the constraints. It also writes out
// swept parameters and preparations as assignments, and finds the size at
// which one alternative becomes cheaper than another.
//
// Alternatives come built and with their filler computed; this package adds
// no number of its own but the distortion rules, each named with its source.
package compare
