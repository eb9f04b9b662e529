package sheet_test

import (
	"io"
	"os"
	"testing"

	"galefast/internal/check"
	"galefast/internal/quantity"
	"galefast/internal/sheet"
	"galefast/internal/site"
	"galefast/internal/takeoff"
)

// BenchmarkDocument makes the document of forty pieces, and writes it in each format.
func BenchmarkDocument(b *testing.B) {
	src, err := os.ReadFile("testdata/forty-pieces.toml")
	if err != nil {
		b.Fatal(err)
	}
	f, problems := site.Load("forty-pieces.toml", src)
	if f == nil {
		b.Fatal(problems)
	}
	masses, _ := takeoff.Take(f)
	r, err := check.Run(f, masses, check.Options{EveryDirection: true})
	if err != nil {
		b.Fatal(err)
	}
	d := sheet.Compose(f, r, quantity.US, sheet.Options{})
	b.Run("compose", func(b *testing.B) {
		for b.Loop() {
			sheet.Compose(f, r, quantity.US, sheet.Options{})
		}
	})
	for _, w := range writers {
		b.Run(w.name, func(b *testing.B) {
			for b.Loop() {
				if err := w.write(d, io.Discard); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
