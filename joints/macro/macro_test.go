package macro

import (
	"testing"

	"fay/geometry"
	"fay/joints"
)

func plate(t geometry.Length) joints.Plate { return joints.Plate{Thickness: t} }

func tee(tb testing.TB, p joints.Tee) *joints.Section {
	tb.Helper()
	s, err := joints.NewTee(p)
	if err != nil {
		tb.Fatal(err)
	}
	return &s
}
