package main

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"strings"
)

// Colours of the icon; the same as in the front end's style.
const (
	colourPaper = "#f7f3ea"
	colourInk   = "#1c1a15"
	colourTeal  = "#0d4650"
	colourLight = "#e8c77a"
)

// point is a place on the icon's 100 by 100 sheet.
type point struct{ x, y float64 }

// shape is one filled polygon.
type shape struct {
	fill   string
	points []point
}

// doorOverThreshold is the icon: a door that stands half open over a threshold, with the
// light of the room falling out. It keeps inside the middle 80 percent, which
// is what every launcher shows.
func doorOverThreshold() []shape {
	return []shape{
		{colourPaper, []point{{0, 0}, {100, 0}, {100, 100}, {0, 100}}},
		{colourInk, []point{{31, 19}, {69, 19}, {69, 73}, {31, 73}}},      // the frame
		{colourLight, []point{{34, 22}, {66, 22}, {66, 73}, {34, 73}}},    // the lit room
		{colourLight, []point{{51, 79}, {66, 79}, {75, 87}, {55, 87}}},    // light over the threshold
		{colourTeal, []point{{34, 22}, {52, 17}, {52, 80}, {34, 73}}},     // the door
		{colourPaper, []point{{46, 48}, {49, 47.6}, {49, 51}, {46, 51}}},  // its handle
		{colourInk, []point{{22, 73}, {78, 73}, {80, 79}, {20, 79}}},      // the threshold
		{colourTeal, []point{{34, 72.9}, {52, 79.9}, {52, 80}, {34, 73}}}, // the door's lower edge
	}
}

// addIcons draws the icon as SVG and as PNG for launchers that want pixels.
func addIcons(d *dist) error {
	shapes := doorOverThreshold()
	d.files["icons/doorsill.svg"] = []byte(drawSVG(shapes))
	for _, size := range []int{180, 192, 512} {
		data, err := drawPNG(shapes, size)
		if err != nil {
			return fmt.Errorf("draw icon of %d pixels: %w", size, err)
		}
		d.files[fmt.Sprintf("icons/doorsill-%d.png", size)] = data
	}
	return nil
}

func drawSVG(shapes []shape) string {
	var b strings.Builder
	b.WriteString("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 100 100\">\n")
	for _, s := range shapes {
		var points []string
		for _, p := range s.points {
			points = append(points, fmt.Sprintf("%g,%g", p.x, p.y))
		}
		fmt.Fprintf(&b, "  <polygon fill=\"%s\" points=\"%s\"/>\n", s.fill, strings.Join(points, " "))
	}
	b.WriteString("</svg>\n")
	return b.String()
}

// layer is a shape ready to be painted.
type layer struct {
	colour  color.RGBA
	outline []point
}

// fine is how many samples a side a pixel is made of.
const fine = 4

func drawPNG(shapes []shape, size int) ([]byte, error) {
	img := image.NewRGBA(image.Rect(0, 0, size, size))
	var palette color.Palette
	seen := map[color.RGBA]bool{}
	layers := make([]layer, len(shapes))
	for i, s := range shapes {
		layers[i] = layer{parseColour(s.fill), s.points}
	}
	for y := range size {
		for x := range size {
			c := pixel(layers, x, y, size)
			img.SetRGBA(x, y, c)
			if !seen[c] {
				seen[c] = true
				palette = append(palette, c)
			}
		}
	}
	var out bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestCompression}
	// Few colours fit into a palette, with which the icon is a third smaller.
	if len(palette) <= 256 {
		small := image.NewPaletted(img.Bounds(), palette)
		draw.Draw(small, small.Bounds(), img, image.Point{}, draw.Src)
		err := enc.Encode(&out, small)
		return out.Bytes(), err
	}
	err := enc.Encode(&out, img)
	return out.Bytes(), err
}

// pixel averages fine × fine samples, so that slanted edges are smooth.
func pixel(layers []layer, x, y, size int) color.RGBA {
	var r, g, b int
	for sy := range fine {
		for sx := range fine {
			at := point{
				(float64(x) + (float64(sx)+0.5)/fine) * 100 / float64(size),
				(float64(y) + (float64(sy)+0.5)/fine) * 100 / float64(size),
			}
			c := topColour(layers, at)
			r, g, b = r+int(c.R), g+int(c.G), b+int(c.B)
		}
	}
	n := fine * fine
	return color.RGBA{uint8(r / n), uint8(g / n), uint8(b / n), 255}
}

func topColour(layers []layer, at point) color.RGBA {
	for i := len(layers) - 1; i >= 0; i-- {
		if inside(layers[i].outline, at) {
			return layers[i].colour
		}
	}
	return color.RGBA{}
}

// inside counts how often a ray to the right crosses the outline.
func inside(outline []point, at point) bool {
	in := false
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.y > at.y) != (b.y > at.y) && at.x < (b.x-a.x)*(at.y-a.y)/(b.y-a.y)+a.x {
			in = !in
		}
	}
	return in
}

func parseColour(hex string) color.RGBA {
	var r, g, b uint8
	// The colours are constants of this file, tested with the icon.
	_, _ = fmt.Sscanf(hex, "#%02x%02x%02x", &r, &g, &b)
	return color.RGBA{r, g, b, 255}
}
