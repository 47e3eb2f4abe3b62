package cli

import (
	"fmt"
	"math"
	"os"
	"strings"
	"time"
)

// progress shows how far a job is, on a terminal alone.
type progress struct {
	app   *app
	on    bool
	rows  span
	begun time.Time
	shown time.Time
}

// progressEvery is how often it is shown, which also bounds how long a short
// job stays silent.
const progressEvery = 250 * time.Millisecond

func (a *app) newProgress(rows span) *progress {
	p := &progress{app: a, rows: rows, begun: time.Now(), shown: time.Now()}
	if file, ok := a.env.Stderr.(*os.File); ok {
		info, err := file.Stat()
		p.on = err == nil && info.Mode()&os.ModeCharDevice != 0
	}
	return p
}

// show tells of so many joints, with which a share of the input is worked off.
func (p *progress) show(joints int, share float64) {
	if !p.on || time.Since(p.shown) < progressEvery {
		return
	}
	p.shown = time.Now()
	switch {
	case p.rows.last < math.MaxInt:
		share = float64(joints) / float64(p.rows.last-p.rows.first+1)
	case p.rows.first > 1:
		share = 0 // of the part that is done, it says nothing
	}
	p.app.talkf("\r\x1b[K%s", progressText(joints, share, time.Since(p.begun)))
}

// barWide is the width of the bar in characters.
const barWide = 24

// progressText tells the rate and, where the share done is known and not 0, lays
// a bead along a seam and tells the time left.
func progressText(joints int, share float64, took time.Duration) string {
	text := fmt.Sprintf("%s, %s/s", count(joints, "joint", "joints"), significant(float64(joints)/took.Seconds()))
	if share <= 0 {
		return "fay: " + text
	}
	bead := int(share * barWide)
	left := time.Duration(float64(took) * (1 - share) / share)
	return fmt.Sprintf("fay: %s%s %s %%, %s, %s left", strings.Repeat(")", bead), strings.Repeat("-", barWide-bead), decimal(100*share, 0), text, left.Round(time.Second))
}

// end clears the line.
func (p *progress) end() {
	if p.on && p.shown.After(p.begun) {
		p.app.talkf("\r\x1b[K")
	}
}
