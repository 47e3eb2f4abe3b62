// Package geometry is exact plane geometry for the section of a welded joint.
//
// # Axes, origin, sign, units
//
// The section plane is cut square across the weld axis: x to the right, y up,
// origin at the joint root of the arrow-side weld. Every coordinate and length
// is in millimetres, every area in mm², every second moment in mm⁴. Angles are
// in radians, counter-clockwise positive, and always of type [Angle]; a size
// that a person typed or will read is a [Length].
//
// An [Outline] is closed and made of straight edges, circular arcs and
// quadratic Bézier curves (a parabola segment is one, so handbook caps are
// exact). A counter-clockwise outline has positive area. An arc is kept by its
// end points and its sagitta, the signed height over the chord: positive bulges
// to the right of the direction of travel, which is outward on a
// counter-clockwise outline. In this form a flat arc is an ordinary number and
// not a centre at infinity.
//
// # Exactness
//
// Area, centroid, second moments, length and distance come from closed forms
// per edge; no reported number passes through a polygon approximation. Only
// [Outline.Flatten] approximates, to the tolerance it is given. The tolerances
// that decide when two points are one are named in tolerances.go.
//
// # Validity
//
// [Edge] constructors accept any numbers; [NewOutline] refuses what is not a
// simple closed curve of finite size and names the edge and the place. No
// function panics on a number, NaN and infinities included.
package geometry
