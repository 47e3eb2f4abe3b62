package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"fay/config"
	"fay/geometry"
)

// stored is where a calibration was kept.
type stored struct {
	Machine string `json:"machine"`
	File    string `json:"file,omitempty"`  // absent where it could not be written
	Block   string `json:"block,omitempty"` // to paste, where it could not
}

// keeper is the name of the machine that a calibration is to be kept for, as
// the settings have it. A shop that lists no machines may use any name.
func (h *heating) keeper(name string) (string, error) {
	if _, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(name, "A")), 64); err == nil {
		return "", usage("--store "+name+": a number alone would read as a current", "give the machine's name")
	}
	if name == "" || len(h.settings.Machines) == 0 {
		return name, nil
	}
	found, err := h.settings.MachineNamed(name)
	if err != nil {
		r := heatReader{h: h}
		r.machineNamed("store", name)
		return "", usage("--store "+name+": "+r.faults[0].Rule, r.faults[0].Remedy)
	}
	return found, nil
}

// keep stores a calibration in the settings file. Where that cannot be done it
// gives the lines to paste, and the reason as an error.
func (a *app) keep(c *calibration, h *heating, machine string) (block string, err error) {
	if c.doubtful {
		return "", usage("--store "+machine+": the fit is not kept, for what is noted with it", "clear that up, or paste efficiency= and spot= where you want them")
	}
	entry := config.Calibration{
		Machine: machine, Process: config.ArcProcess(c.Process), Sections: c.Sections, Efficiency: c.Efficiency, Spot: geometry.Length(c.SpotMM),
		EfficiencyRange: c.EfficiencyRange, SpotRange: c.SpotRange,
		Source: config.Source{Text: fmt.Sprintf("%s, %s weld, digest %s", h.title(), c.Weld, h.doc.Digest[:shortDigest]), Provenance: config.Shop},
	}
	c.Stored = &stored{Machine: machine}
	path, err := a.storeIn(entry)
	if err == nil {
		c.Stored.File = path
		a.talkf("fay: stored in %s; calibrated=%q uses it\n", path, machine)
		return "", nil
	}
	c.Stored.Block = entry.Block()
	return c.Stored.Block, err
}

// storeIn puts a calibration into the settings file in force, or into a new one
// where the user's own would be.
func (a *app) storeIn(c config.Calibration) (path string, err error) {
	path = a.config
	if path == "" {
		if path, err = config.DefaultFile(a.env.ConfigDir); err != nil {
			return "", usage(err.Error(), "name a settings file with --config, or paste the lines printed into one")
		}
	}
	data, err := os.ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && a.config == "":
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil { //nolint:gosec // the umask decides, as for any folder
			return "", unwritable(path, err)
		}
	case err != nil:
		return "", unwritable(path, err)
	}
	text, err := config.StoreCalibration(data, c)
	if errors.Is(err, config.ErrNotEdited) {
		return "", usage(path+": is written in a way that nothing can be added to; nothing was written", "paste the lines printed into it, one setting a line")
	}
	if faults, ok := errors.AsType[config.Faults](err); ok {
		for i := range faults {
			faults[i].Origin.Name = path
		}
	}
	if err != nil {
		return "", err
	}
	return path, writeFile(path, text)
}

// fenced is text as it stands, in Markdown as code.
func fenced(f format, text string) string {
	if f == asMD {
		return "```yaml\n" + text + "```\n"
	}
	return text
}
