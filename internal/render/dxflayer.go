package render

import (
	"fmt"
	"strings"

	"undersod/core/sheet"
)

// dxfLayer is a layer of a DXF, in the order of the scene's.
type dxfLayer struct {
	name   string
	colour sheet.Colour // of most of its shapes
}

// dxfLayers gives each layer a name that DXF allows and no other layer has.
func dxfLayers(layers []sheet.Layer) []dxfLayer {
	taken := map[string]bool{"0": true}
	var out []dxfLayer
	for i, l := range layers {
		base := layerName(l.Name)
		if base == "" {
			base = fmt.Sprintf("layer %d", i+1)
		}
		name := base
		for n := 2; taken[strings.ToLower(name)]; n++ {
			name = fmt.Sprintf("%s %d", base, n)
		}
		taken[strings.ToLower(name)] = true
		out = append(out, dxfLayer{dxfEscape(name), usualColour(l)})
	}
	return out
}

// longestLayerName, in characters, stays within the 255 bytes that DXF allows.
const longestLayerName = 80

// layerName replaces what a name in a table must not hold.
func layerName(name string) string {
	name = strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune("<>/\\\":;?*|=`,\u007f", r) {
			return '-'
		}
		return r
	}, regularFace().spelled(name))
	if runes := []rune(name); len(runes) > longestLayerName {
		name = string(runes[:longestLayerName])
	}
	return strings.TrimSpace(name)
}

// usualColour returns the colour that most lines and texts of a layer have,
// the earlier one where two are as frequent.
func usualColour(l sheet.Layer) sheet.Colour {
	count := map[sheet.Colour]int{}
	var best sheet.Colour
	for _, shape := range l.Shapes {
		var c sheet.Colour
		switch v := shape.(type) {
		case sheet.Path:
			if v.Stroke == nil {
				continue
			}
			c = v.Stroke.Colour
		case sheet.Text:
			c = v.Colour
		default:
			continue
		}
		count[c]++
		if count[c] > count[best] {
			best = c
		}
	}
	return best
}

func (d *dxfWriter) writeLayers(table int) {
	for _, l := range append([]dxfLayer{{name: "0"}}, d.layers...) {
		d.record("LAYER", "AcDbLayerTableRecord", table, l.name)
		d.colour(l.colour)
		d.text(6, "Continuous")
		d.integer(370, -3) // the default line weight
	}
}

// colour writes the nearest colour of the index, and the true colour for
// readers that know it. Black is written as the index's colour 7, which is
// drawn black on white and white on black. Pure white is written a shade
// darker, because some programs turn it to black in the same way.
func (d *dxfWriter) colour(c sheet.Colour) {
	switch c {
	case sheet.Colour{}:
		d.integer(62, 7)
		return
	case sheet.Colour{R: 255, G: 255, B: 255}:
		c = sheet.Colour{R: 254, G: 254, B: 254}
	}
	d.integer(62, nearestIndex(c))
	d.integer(420, int(c.R)<<16|int(c.G)<<8|int(c.B))
}

// brightness gives the five levels of the colour index and greys its last six
// entries, both from memory of the usual palette.
var (
	brightness = [5]float64{255, 189, 129, 104, 79}
	greys      = [6]uint8{51, 80, 105, 130, 190, 255}
)

// indexed returns the colour of an entry of the index from 10 to 255: 24 hues
// of ten shades each, of which every second is half as strong, then greys.
func indexed(i int) sheet.Colour {
	if i >= 250 {
		g := greys[i-250]
		return sheet.Colour{R: g, G: g, B: g}
	}
	top := brightness[i%10/2]
	bottom := 0.0
	if i%2 == 1 {
		bottom = top / 2
	}
	hue := float64(i/10-1) / 4 // in sixths of the circle
	channel := func(shift float64) uint8 {
		at := hue + shift
		for at >= 6 {
			at -= 6
		}
		// Full within one sixth of the channel's own hue, none beyond two.
		share := min(max(2-min(at, 6-at), 0), 1)
		return uint8(bottom + share*(top-bottom) + 0.5)
	}
	return sheet.Colour{R: channel(0), G: channel(4), B: channel(2)}
}

// nearestIndex returns the entry of the colour index from 10 to 255 that is
// nearest to c.
func nearestIndex(c sheet.Colour) int {
	best, least := 0, 1<<30
	for i := 10; i <= 255; i++ {
		k := indexed(i)
		r, g, b := int(k.R)-int(c.R), int(k.G)-int(c.G), int(k.B)-int(c.B)
		if d := r*r + g*g + b*b; d < least {
			best, least = i, d
		}
	}
	return best
}
