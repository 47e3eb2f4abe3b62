// Package filler turns the deposited area of a joint into filler metal: volume,
// mass, rods, wire.
//
// The chain is deposited area (mm², the same number as cm³ per metre of weld) →
// × density → deposited kg/m → ÷ deposition efficiency → consumed kg/m. The
// efficiency counts spatter and loss in the arc and no stubs; those come in with
// the rods, where they can be seen. Allowances for oversize, tacks and waste are
// added where they are given, and are zero where they are not.
//
// Density and efficiency are passed in with their sources: published tables of
// weld weights differ by them, not by geometry.
package filler
