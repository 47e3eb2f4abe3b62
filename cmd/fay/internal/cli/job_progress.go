package cli

import (
	"fmt"
	"os"
	"time"
)

// progress shows how far a job is, on a terminal alone.
type progress struct {
	app   *app
	on    bool
	done  func() float64
	begun time.Time
	shown time.Time
}

// progressEvery is how often it is shown, which also bounds how long a short
// job stays silent.
const progressEvery = 250 * time.Millisecond

func (a *app) newProgress(in *jobInput, rows span) *progress {
	p := &progress{app: a, begun: time.Now(), shown: time.Now(), done: in.done}
	if file, ok := a.env.Stderr.(*os.File); ok {
		info, err := file.Stat()
		p.on = err == nil && info.Mode()&os.ModeCharDevice != 0
	}
	if !rows.all() {
		// What is read says little of a part of the job.
		p.done = func() float64 { return 0 }
	}
	return p
}

func (p *progress) show(joints int) {
	if !p.on || time.Since(p.shown) < progressEvery {
		return
	}
	p.shown = time.Now()
	p.app.talkf("\r\x1b[K%s", progressText(joints, p.done(), time.Since(p.begun)))
}

// progressText tells the rate and, where the share done is known, the time left.
func progressText(joints int, share float64, took time.Duration) string {
	text := fmt.Sprintf("fay: %s, %s/s", count(joints, "joint", "joints"), significant(float64(joints)/took.Seconds()))
	if share > 0 && share < 1 {
		left := time.Duration(float64(took) * (1 - share) / share)
		text += fmt.Sprintf(", %s %%, %s left", decimal(100*share, 0), left.Round(time.Second))
	}
	return text
}

// end clears the line.
func (p *progress) end() {
	if p.on && p.shown.After(p.begun) {
		p.app.talkf("\r\x1b[K")
	}
}
