// Package archtest holds the test that keeps imports pointing one way:
// geometry ← joints ← render ← cmd, and config ← cmd.
package archtest
