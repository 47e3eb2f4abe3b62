package cli

import (
	"errors"
	"strings"

	"fay/config"
	"fay/joints"
	"fay/joints/jointfile"
)

// mostFaults bounds the faults printed; the count of the rest is still told.
const mostFaults = 50

// usageError is a command line or a file name that cannot be acted on.
type usageError struct{ message, hint string }

func (e *usageError) Error() string { return e.message }

func usage(message, hint string) error { return &usageError{message, hint} }

// report prints an error, one message a fault with a hint, and returns the
// exit code it stands for.
func (a *app) report(err error) int {
	var use *usageError
	var settings config.Faults
	var plain joints.Faults
	switch faults := jointfile.AsFaults(err); {
	case errors.Is(err, errNotMet):
		return exitNotMet
	case errors.As(err, &use):
		a.fault(use.message, "", use.hint)
	case faults != nil:
		for i, f := range faults {
			if i == mostFaults {
				a.talkf("fay: and %d more\n", len(faults)-i)
				break
			}
			remedy := f.Remedy
			f.Remedy = ""
			a.fault(f.Error(), f.Excerpt(), remedy)
		}
	case errors.As(err, &settings):
		for i, f := range settings {
			if i == mostFaults {
				a.talkf("fay: and %d more\n", len(settings)-i)
				break
			}
			remedy := f.Remedy
			f.Remedy = ""
			a.fault(f.Error(), "", remedy)
		}
	case errors.As(err, &plain):
		for _, f := range plain {
			remedy := f.Remedy
			f.Remedy = ""
			a.fault(f.Error(), "", remedy)
		}
	default:
		a.fault(err.Error(), "", "")
		return exitUnexpected
	}
	return exitInput
}

func (a *app) fault(message, excerpt, hint string) {
	a.talkf("fay: %s\n", message)
	if excerpt != "" {
		a.talkf("    %s\n", strings.ReplaceAll(excerpt, "\n", "\n    "))
	}
	if hint != "" {
		a.talkf("  hint: %s\n", hint)
	}
}
