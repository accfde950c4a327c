package sheet

import (
	"bytes"
	"image"
	"image/png"
	"testing"
)

// FuzzLogo: no picture stops the program, and what passes can be printed.
func FuzzLogo(f *testing.F) {
	var small bytes.Buffer
	if err := png.Encode(&small, image.NewGray(image.Rect(0, 0, 3, 2))); err != nil {
		f.Fatal(err)
	}
	f.Add(small.Bytes())
	f.Add([]byte("\xff\xd8\xff\xe0"))
	f.Fuzz(func(t *testing.T, logo []byte) {
		if CheckLogo(logo) != nil {
			return
		}
		if _, _, err := image.Decode(bytes.NewReader(logo)); err != nil {
			t.Fatal(err)
		}
	})
}
