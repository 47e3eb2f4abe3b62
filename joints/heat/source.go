package heat

// Provenance says how far a number can be trusted: where it was read.
type Provenance string

// The provenances, from the firmest to the weakest.
const (
	Primary        Provenance = "primary"         // read in the document itself or an extract of it
	Computed       Provenance = "computed"        // derived and checked by own computation
	Secondary      Provenance = "secondary"       // read in a report of the document
	Shop           Provenance = "shop"            // entered by the shop
	CommonPractice Provenance = "common practice" // what the trade does, no document
	OwnChoice      Provenance = "own choice"      // fay's own limits and words
	Memory         Provenance = "memory"          // remembered, unverified
)

var trust = []Provenance{Primary, Computed, Secondary, Shop, CommonPractice, OwnChoice, Memory}

// Source is the paper behind a number.
type Source struct {
	Text       string
	Provenance Provenance
}

// String prints the text with its provenance in brackets.
func (s Source) String() string {
	if s.Text == "" {
		return "[" + string(s.Provenance) + "]"
	}
	return s.Text + " [" + string(s.Provenance) + "]"
}

// Weakest is the least trusted of the provenances; an unknown one counts as
// remembered.
func Weakest(of ...Source) Provenance {
	worst := 0
	for _, s := range of {
		rank := len(trust) - 1
		for i, p := range trust {
			if s.Provenance == p {
				rank = i
				break
			}
		}
		worst = max(worst, rank)
	}
	return trust[worst]
}

// Basis names a source of the answer and what it is the source of.
type Basis struct {
	What   string
	Source Source
}
