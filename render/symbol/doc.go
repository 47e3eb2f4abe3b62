// Package symbol makes the welding symbol of a joint and draws it.
//
// [All] and [Of] read a section and its seams and give a neutral description:
// which weld lies on which side, every number that the symbol carries, the
// member the arrow points at. The numbers are those of the section. [Parse]
// goes the other way: from the description to the parameters of the joint.
// [Symbol.Layout] turns the description into strokes and lettering on paper,
// about the tip of the arrow, together with the boxes and lines that a layout
// has to keep clear.
//
// # Systems
//
// AWS A2.4 and ISO 2553 system B put the arrow side below the reference line
// and the other side above it; ISO 2553 system A puts the arrow side on the
// solid line and the other side on a dashed one, 1 mm below, which is left out
// for a double weld alike on both sides (secondary: teaching book on EN ISO
// 2553, US Navy trade texts; system B from memory, unverified). A fillet's size
// is its leg, without a letter, in AWS A2.4, and carries a letter in ISO 2553,
// a for the design throat or z for the leg. Intermittent welds are length–pitch
// centre to centre in AWS A2.4, n × l (e) with the clear gap e in ISO 2553; a
// staggered weld is drawn with its glyphs offset in AWS A2.4, with a Z across
// the line in ISO 2553 (secondary, the same texts).
//
// From memory, unverified: the place of the groove angle, the letters h and s
// of grooves in ISO 2553, z1×z2 for unequal legs, M and MR in the backing glyph
// of ISO 2553, separation of tail entries by a slash, the opening of the fork,
// the glyphs of edge, plug and flare welds, and the place of the root opening
// once on a double groove.
//
// # Proportions
//
// The size drawings in the annexes of AWS A2.4 and ISO 2553 could not be read.
// The proportions here are our own and satisfy the least sizes of the teaching
// books (symbol at least as high as the lettering and 3.5 mm, strokes at least
// 0.35 mm, circle about 3 mm, arrow at about 60°, reference line about 20 mm).
// They are stated in lettering heights in proportions.go.
package symbol
