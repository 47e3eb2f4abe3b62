// Package joints models welded joints between plates as exact plane sections.
//
// The section is cut square across the weld axis: x to the right, y up, in
// millimetres, origin at the joint root of the arrow-side weld, the continuous
// member level. Every kind of joint yields one common [Section]; drawing,
// checks, filler and heat read the Section and never ask which kind it is.
//
// Three throats are kept apart. The theoretical throat is the height, from the
// joint root, of the largest triangle that fits in the weld profile. The
// effective throat is the shortest distance from the weld root to the face of
// the diagrammatic weld: convexity is not counted, a gap is, penetration only
// where it is claimed as proven. The actual throat is the shortest distance
// from the weld root to the real face, convexity and penetration included.
//
// A joint is built from a typed parameter struct ([NewTee], [NewLap], …) or,
// for files and one-liners, from an [Input] through the [Kind] table. If you
// hold a Section, it is valid; every refused input is reported as [Faults],
// all of them at once.
package joints
