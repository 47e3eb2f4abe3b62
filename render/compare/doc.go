// Package compare draws a comparison: the sections of the alternatives side by
// side at one scale over bars of what each takes.
//
// The best column stands in a heavy frame under the word best, the reference
// is named, and what is out of the ranking is lined where its rank would stand
// and has open, lined bars: nothing depends on colour.
package compare
