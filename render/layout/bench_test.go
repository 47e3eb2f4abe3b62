package layout_test

import (
	"testing"

	"fay/render/layout"
	"fay/render/symbol"
)

func BenchmarkAt(b *testing.B) {
	e := examples(b)[0]
	for b.Loop() {
		layout.At(&e.sec, &e.style, 5, noLimit)
	}
}

func BenchmarkCompose(b *testing.B) {
	for _, e := range examples(b) {
		b.Run(e.name, func(b *testing.B) {
			for b.Loop() {
				layout.Compose(&e.sec, &e.style, 180, 150, layout.Symbols(&e.sec, &e.style, nil, symbol.Options{})...)
			}
		})
	}
}
