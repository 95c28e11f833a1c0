package plots

import (
	"bytes"
	"flag"
	"image"
	"image/draw"
	"image/png"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

var pictures = flag.String("pictures", "", "write every example as PNG, in colour and in grey, to this directory")

// TestPictures writes the examples for the eye: -pictures DIR. A picture in
// grey shows whether shapes and darkness still say what the colours say.
func TestPictures(t *testing.T) {
	if *pictures == "" {
		t.Skip("no -pictures directory given")
	}
	all := figures()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		fig, err := all[name]()
		if err != nil {
			t.Fatal(err)
		}
		data, err := fig.PNG(defaultDPI)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		grey := image.NewGray(img.Bounds())
		draw.Draw(grey, grey.Bounds(), img, img.Bounds().Min, draw.Src)
		var out bytes.Buffer
		if err := png.Encode(&out, grey); err != nil {
			t.Fatal(err)
		}
		for file, content := range map[string][]byte{name + ".png": data, name + "-grey.png": out.Bytes()} {
			if err := os.WriteFile(filepath.Join(*pictures, file), content, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
