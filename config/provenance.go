package config

// Provenance says how far a number can be trusted: where it was read.
type Provenance string

// The five provenances, from the firmest to the shop's own word.
const (
	// Primary: read in the document itself or an extract of it.
	Primary Provenance = "primary"
	// Secondary: read in a report of the document.
	Secondary Provenance = "secondary"
	// Memory: remembered, not checked against any document.
	Memory Provenance = "memory"
	// CommonPractice: what the trade does, without a document.
	CommonPractice Provenance = "common practice"
	// Shop: entered by the shop in its settings.
	Shop Provenance = "shop"
)

// Provenances lists every provenance in order.
func Provenances() []Provenance {
	return []Provenance{Primary, Secondary, Memory, CommonPractice, Shop}
}

// Source is the paper behind a number.
type Source struct {
	Text       string     // document, edition, page or address, as read
	Provenance Provenance // how it was read
}

// String prints the text with its provenance in brackets.
func (s Source) String() string {
	if s.Text == "" {
		return "[" + string(s.Provenance) + "]"
	}
	return s.Text + " [" + string(s.Provenance) + "]"
}

const unverified = "from memory, unverified"

func fromMemory() Source { return Source{Text: unverified, Provenance: Memory} }
