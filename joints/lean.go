package joints

// extent is how much of a section is wanted.
type extent uint8

const (
	everything extent = iota
	unprinted         // see [BuildBrief]
	weldsOnly         // see [BuildWelds]
)

// BuildBrief makes the section that [Build] makes without what is only printed:
// the parameters and the measures of welds. It is for those who want the
// findings and the filler of many joints and draw none of them.
func BuildBrief(in Input) (Section, error) { return build(in, unprinted) }

// BuildWelds makes the welds that [Build] makes, and nothing else: no
// parameters, no measures and, where the kind can do without, no members. It
// is for joints that are built many times over with other numbers, so the
// input must be one whose names Build has taken before: they are not looked at
// again. What Build refuses for its numbers is refused here too.
func BuildWelds(in Input) ([]Weld, error) {
	k, ok := LookupKind(in.Kind)
	if !ok {
		_, err := Build(in)
		return nil, err
	}
	r := &reader{kind: k, in: in, extent: weldsOnly}
	s, err := k.build(r)
	if err != nil {
		return nil, err
	}
	if len(r.faults) > 0 {
		return nil, r.faults
	}
	return s.Welds, nil
}
