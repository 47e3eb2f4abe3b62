package render

// words is the wording of drawings and sheets: the key, the US term, the ISO
// term. Everything lettered that is not a number, a name of the user's or a
// rule's title stands here.
var words = map[string][2]string{
	// Views and labels.
	"twice":            {"2X", "2×"},
	"weld.arrow":       {"arrow side", "arrow side"},
	"weld.other":       {"other side", "other side"},
	"weld.outside":     {"outside", "outside"},
	"weld.inside":      {"inside", "inside"},
	"weld.lower-arrow": {"lower, arrow side", "lower, arrow side"},
	"weld.lower-other": {"lower, other side", "lower, other side"},
	"weld.notch":       {"notch", "notch"},
	"weld.both":        {"both sides", "both sides"},
	"member.base":      {"base", "base"},
	"member.stem":      {"stem", "stem"},
	"member.lower":     {"lower", "lower"},
	"member.upper":     {"upper", "upper"},
	"member.left":      {"left", "left"},
	"member.right":     {"right", "right"},
	"backing.strip":    {"backing strip", "backing strip"},
	"backing.bar":      {"backing bar, temporary", "backing bar, temporary"},
	"backing.ceramic":  {"ceramic backing, temporary", "ceramic backing, temporary"},
	"view.section":     {"Section across the weld", "Section across the weld"},
	"scale":            {"scale", "scale"},
	"not.to.scale":     {"do not scale drawing", "do not scale"},
	"unit.mm":          {"dimensions in millimeters", "dimensions in millimetres"},
	"unit.in":          {"dimensions in inches", "dimensions in inches"},

	// Names printed in front of a dimension; empty where the dimension says it.
	"dimension.leg":                {"", ""},
	"dimension.thickness":          {"", ""},
	"dimension.angle":              {"", ""},
	"dimension.overlap":            {"", ""},
	"dimension.gap":                {"gap", "gap"},
	"dimension.wedge gap":          {"wedge", "wedge"},
	"dimension.edge remaining":     {"", ""},
	"dimension.root opening":       {"", ""},
	"dimension.root face":          {"", ""},
	"dimension.groove angle":       {"", ""},
	"dimension.bevel angle":        {"", ""},
	"dimension.edge angle":         {"", ""},
	"dimension.root radius":        {"", ""},
	"dimension.depth":              {"", ""},
	"dimension.radius":             {"", ""},
	"dimension.bend radius":        {"", ""},
	"dimension.diameter":           {"⌀", "⌀"},
	"dimension.countersink":        {"", ""},
	"dimension.flange height":      {"", ""},
	"dimension.joggle length":      {"", ""},
	"dimension.transition length":  {"", ""},
	"dimension.hi-lo":              {"hi-lo", "misalignment"},
	"dimension.cap width":          {"", ""},
	"dimension.cap height":         {"", ""},
	"dimension.effective throat":   {"effective throat", "effective throat"},
	"dimension.actual throat":      {"actual throat", "actual throat"},
	"dimension.theoretical throat": {"theoretical throat", "theoretical throat"},

	// Measures and parameters as tables name them.
	"measure.leg":                {"leg", "leg"},
	"measure.gauge leg":          {"gauge leg", "gauge leg"},
	"measure.theoretical throat": {"theoretical throat", "theoretical throat"},
	"measure.effective throat":   {"effective throat", "effective throat"},
	"measure.actual throat":      {"actual throat", "actual throat"},
	"measure.area":               {"area", "area"},
	"measure.deposited area":     {"deposited", "deposited"},
	"area.deposited":             {"area, all filler", "area, all filler"},
	"measure.weld area":          {"area", "area"},
	"measure.cap height":         {"reinforcement", "excess weld metal"},
	"measure.root height":        {"root reinforcement", "excess penetration"},
	"measure.root opening":       {"root opening", "root gap"},
	"measure.root-opening":       {"root opening", "root gap"},
	"measure.groove angle":       {"groove angle", "included angle"},
	"measure.groove-angle":       {"groove angle", "included angle"},
	"measure.edge angle":         {"bevel angle", "bevel angle"},
	"measure.bevel-angle":        {"bevel angle", "bevel angle"},
	"measure.root-face":          {"root face", "root face"},
	"measure.root-radius":        {"root radius", "root radius"},
	"measure.hi-lo":              {"hi-lo", "linear misalignment"},
	"measure.angle":              {"dihedral angle", "dihedral angle"},

	// Tables.
	"table.welds":     {"Welds", "Welds"},
	"table.fitup":     {"Fit-up", "Fit-up"},
	"table.materials": {"Materials", "Materials"},
	"table.filler":    {"Filler", "Filler"},
	"table.findings":  {"Rules", "Rules"},
	"table.hold":      {"Hold points", "Hold points"},
	"table.cautions":  {"Cautions", "Cautions"},
	"table.notes":     {"Notes", "Notes"},
	"continued":       {"continued", "continued"},
	"nominal":         {"nominal", "nominal"},
	"tolerance":       {"tolerance", "tolerance"},
	"measured":        {"measured", "measured"},
	"total":           {"total", "total"},
	"needs":           {"needs", "needs"},
	"memory":          {"from memory, unverified", "from memory, unverified"},
	"unplaced":        {"not on the drawing", "not on the drawing"},
	"by":              {"by", "by"},
	"date":            {"date", "date"},

	"verdict.met":            {"met", "met"},
	"verdict.not met":        {"not met", "not met"},
	"verdict.cannot tell":    {"cannot tell", "cannot tell"},
	"verdict.not applicable": {"not applicable", "not applicable"},

	"hold.fitup":      {"Fit-up", "Fit-up"},
	"hold.fitup.what": {"gap, angle, edges, clean", "gap, angle, edges, clean"},
	"hold.root":       {"Root", "Root"},
	"hold.root.what":  {"fused to the root", "fused to the root"},
	"hold.final":      {"Final visual", "Final visual"},
	"hold.final.what": {"legs, throat, profile", "legs, throat, profile"},
	"hold.etch":       {"Cut and etch", "Cut and etch"},
	"hold.etch.what":  {"sample, root fusion", "sample, root fusion"},

	// Trade facts: common practice, no source.
	"caution.arc":     {"Arc rays: helmet, gloves, screens.", "Arc rays: helmet, gloves, screens."},
	"caution.fume":    {"Fume and ozone: extract at the arc.", "Fume and ozone: extract at the arc."},
	"caution.shock":   {"Shock: dry gloves, sound leads, dry floor.", "Shock: dry gloves, sound leads, dry floor."},
	"caution.hot":     {"Hot metal does not show: mark it.", "Hot metal does not show: mark it."},
	"caution.solvent": {"Phosgene: no chlorinated solvents.", "Phosgene: no chlorinated solvents."},
	"caution.gas":     {"Shielding gas chokes: air closed spaces.", "Shielding gas chokes: air closed spaces."},
	"caution.defers":  {"Geometry and published rules only, no statement of strength. The local code and licensed practice decide.", "Geometry and published rules only, no statement of strength. The local code and licensed practice decide."},

	// Title block and check bars.
	"traveler":       {"Joint traveler", "Joint traveler"},
	"joint":          {"joint", "joint"},
	"sheet":          {"sheet", "sheet"},
	"of":             {"of", "of"},
	"field.owner":    {"Company", "Owner"},
	"field.title":    {"Title", "Title"},
	"field.document": {"Document", "Document type"},
	"field.job":      {"Job", "Job"},
	"field.part":     {"Part", "Part"},
	"field.joint":    {"Joint", "Joint"},
	"field.revision": {"Rev", "Revision"},
	"field.quantity": {"Qty", "Quantity"},
	"field.date":     {"Date", "Date of issue"},
	"field.planner":  {"Planned by", "Creator"},
	"field.approved": {"Approved by", "Approval"},
	"field.scale":    {"Scale", "Scale"},
	"field.units":    {"Units", "Units"},
	"field.digest":   {"Input digest", "Input digest"},
	"field.sheet":    {"Sheet", "Sheet"},
	"check.bar":      {"Do not scale. True scale if both check bars measure 50 mm.", "Do not scale. True scale if both check bars measure 50 mm."},
}

// Word gives a term of the style's language; a term that is not on file stands
// for itself, without the part before the dot.
func (s *Style) Word(key string) string {
	w, ok := words[key]
	if !ok {
		for i := range len(key) {
			if key[i] == '.' {
				return key[i+1:]
			}
		}
		return key
	}
	if s.Language == LanguageUS {
		return w[0]
	}
	return w[1]
}
