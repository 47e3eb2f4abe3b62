package png

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"io"
	"math"
)

// Colour types of the PNG header.
const (
	grey      = 0
	trueColor = 2
)

// encode writes an opaque picture with its resolution. The standard encoder
// writes no resolution and tries five filters on every row; for line drawings
// the difference from the row above is as small and several times faster.
func encode(w io.Writer, img *image.RGBA, dpi float64) error {
	width, height := img.Rect.Dx(), img.Rect.Dy()
	kind, channels := byte(trueColor), 3
	if isGrey(img.Pix) {
		kind, channels = grey, 1
	}
	var out bytes.Buffer
	out.WriteString("\x89PNG\r\n\x1a\n")

	header := binary.BigEndian.AppendUint32(nil, uint32(width))    //nolint:gosec // at most MaxPixels
	header = binary.BigEndian.AppendUint32(header, uint32(height)) //nolint:gosec // at most MaxPixels
	header = append(header, 8, kind, 0, 0, 0)                      // bits to a channel; deflate; filters; not interlaced
	chunk(&out, "IHDR", header)

	perMetre := uint32(math.Round(dpi / millimetresPerInch * 1000))
	resolution := binary.BigEndian.AppendUint32(nil, perMetre)
	resolution = binary.BigEndian.AppendUint32(resolution, perMetre)
	chunk(&out, "pHYs", append(resolution, 1)) // unit: metre

	chunk(&out, "IDAT", deflate(img, channels))
	chunk(&out, "IEND", nil)
	_, err := w.Write(out.Bytes())
	return err
}

func isGrey(pix []byte) bool {
	for i := 0; i < len(pix); i += 4 {
		if pix[i] != pix[i+1] || pix[i] != pix[i+2] {
			return false
		}
	}
	return true
}

// deflate packs the rows, each as its difference from the one above.
func deflate(img *image.RGBA, channels int) []byte {
	const up = 2 // filter: difference from the byte above
	width, height := img.Rect.Dx(), img.Rect.Dy()
	var out bytes.Buffer
	z, err := zlib.NewWriterLevel(&out, zlib.BestSpeed)
	if err != nil {
		panic("png: " + err.Error()) // the level is a constant
	}
	row := make([]byte, 1+channels*width)
	above := make([]byte, 4*width) // of the first row is black
	for y := range height {
		pix := img.Pix[y*img.Stride:][:4*width]
		clear(row)
		row[0] = up
		// Most rows of a sheet are those above them.
		if !bytes.Equal(pix, above) {
			for x := range width {
				for c := range channels {
					row[1+channels*x+c] = pix[4*x+c] - above[4*x+c]
				}
			}
		}
		above = pix
		// A bytes.Buffer takes everything.
		_, _ = z.Write(row)
	}
	_ = z.Close()
	return out.Bytes()
}

func chunk(out *bytes.Buffer, kind string, data []byte) {
	start := out.Len() + 4
	out.Write(binary.BigEndian.AppendUint32(out.AvailableBuffer(), uint32(len(data)))) //nolint:gosec // packed pixels, see MaxPixels
	out.WriteString(kind)
	out.Write(data)
	out.Write(binary.BigEndian.AppendUint32(out.AvailableBuffer(), crc32.ChecksumIEEE(out.Bytes()[start:])))
}
