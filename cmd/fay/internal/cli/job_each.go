package cli

import (
	"fmt"
	"path/filepath"
	"strings"

	"fay/render"
)

// eachDPI is that of a png among many.
const eachDPI = 150

// encode writes every sheet of a joint by itself. Sheets of tables have nothing
// to cut or trace and make no dxf.
func (d *jobDone) encode(j *job, sheets []*render.Drawing, format string) error {
	for i, s := range sheets {
		if format == "dxf" && len(s.Views) == 0 {
			continue
		}
		data, err := j.encode(sheets, format, eachDPI, i+1)
		if err != nil {
			return err
		}
		d.files = append(d.files, data)
	}
	return nil
}

// writeEach writes the sheets of all joints to files of their own, numbered as
// the joints are. Each is written whole or not at all.
func (r *jobRun) writeEach(done []jobDone) error {
	ending := filepath.Ext(r.plan.each)
	stem := strings.TrimSuffix(r.plan.each, ending)
	written := 0
	for i := range done {
		for k, data := range done[i].files {
			name := fmt.Sprintf("%s-%04d", stem, done[i].line.Number)
			if k > 0 {
				name += fmt.Sprintf("-%d", k+1)
			}
			if err := writeFile(name+ending, data); err != nil {
				return err
			}
			written++
		}
	}
	r.app.talkf("fay: wrote %d files %s-*%s\n", written, stem, ending)
	return nil
}
