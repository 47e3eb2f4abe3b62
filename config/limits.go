package config

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Limit is one of the shop's own limits on a joint: base + factor · size, at
// most Most where that is not zero, in mm or degrees. What Of and Size may
// name is known to the checks, which judge them; here the numbers are read.
type Limit struct {
	Of                 string // a quantity such as convexity, or the id of a rule about one
	AtLeast            bool
	Base, Factor, Most float64
	Size               string // empty for a fixed limit
	Note               string
}

type rawLimit struct {
	Of       string `mapstructure:"of"`
	Operator string `mapstructure:"operator"`
	Base     string `mapstructure:"base"`
	Factor   string `mapstructure:"factor"`
	Size     string `mapstructure:"size"`
	Most     string `mapstructure:"most"`
	Note     string `mapstructure:"note"`
}

// limits judges the shop's own limits.
func (j *judge) limits(list []rawLimit) []Limit {
	if len(list) == 0 {
		return nil
	}
	out := make([]Limit, 0, len(list))
	for i, e := range list {
		path := fmt.Sprintf("limits[%d]", i)
		l := Limit{Of: strings.TrimSpace(e.Of), Size: strings.TrimSpace(e.Size), Note: strings.TrimSpace(e.Note),
			Base: j.plain(path+".base", e.Base), Factor: j.plain(path+".factor", e.Factor), Most: j.plain(path+".most", e.Most)}
		if l.Of == "" {
			j.fault(FaultMissing, path, e.Note, "a limit needs `of`", "add `of: convexity` or the id of a rule, such as iso-10042/C/503")
		}
		switch strings.TrimSpace(e.Operator) {
		case "", "<=", "≤":
		case ">=", "≥":
			l.AtLeast = true
		default:
			j.fault(FaultValue, path+".operator", e.Operator, "must be <= or >=", "leave it out for <=")
		}
		out = append(out, l)
	}
	return out
}

// plain reads a number of a limit, in mm or degrees; empty is zero.
func (j *judge) plain(path, text string) float64 {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0
	}
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "mm")), 64)
	if err != nil || math.IsNaN(v) || math.Abs(v) > 1e4 {
		j.fault(FaultValue, path, text, "is not a number of mm or degrees", "write a number such as 0.5")
		return 0
	}
	return v
}

func limitNames(list []Limit) string {
	names := make([]string, 0, len(list))
	for _, l := range list {
		if !slices.Contains(names, l.Of) {
			names = append(names, l.Of)
		}
	}
	return strings.Join(names, ", ")
}
