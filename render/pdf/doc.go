// Package pdf writes drawings as the pages of a PDF file at true size, with
// text that can be selected and searched.
//
// Pages are drawn in millimetres; the fonts of the lettering are embedded, cut
// down to the glyphs used, with a table from glyphs to characters. A drawing
// becomes a [Page] by itself, so that pages can be made on several processors
// and kept in little memory. The file
// asks viewers not to scale when printing, carries one fixed date, and gives
// the same bytes for the same drawings.
//
// The objects are written here and not by the PDF renderer of the canvas
// library, which still supplies shaping and subsetting. That renderer stamps
// the present time into the file and into every embedded font program (inside
// a compressed stream, so a later patch would have to unpack and lay out the
// file again), knows no viewer preferences, bookmarks or page labels, writes
// the creator's name as the language, changes shared font data while it
// writes, which forbids two writers at once, and rounds glyph widths to whole
// thousandths, so that letters drift from where they were measured. Mending all
// that afterwards is more code than writing the few objects a drawing needs.
package pdf
