// Package rendertest helps to test drawings: golden files, checks of SVG and
// PDF files, and sample drawings.
package rendertest
