// Package config holds what a shop decides once and what every joint looks
// up: typed settings and the data tables of fillers, base materials,
// deposition efficiencies and rod sizes.
//
// Settings come in layers, a later one winning: built-in defaults, the
// settings file (the user's own folder, or a file named on the command line),
// the environment (FAY_SHEET=Letter), explicit overrides. Every value
// remembers the layer, file line or variable it came from.
//
// Units: lengths are geometry.Length (millimetres), densities are Density
// (g/cm³), efficiencies are fractions of 1. Every table value carries a
// Source with its provenance; a value from memory says so wherever it prints.
//
// The settings file is YAML: plain keys and values, no anchors, tags or
// merges. All faults of a run are reported together, each with its place.
package config
