package draw

import "duskline/calc/sun"

// Sign is the look of a sky as a small tile, in the signs of the dusk strip:
// the sun's disc, and bars over it for cloud. The look's name stands beside
// it, so the tile itself says nothing to a screen reader.
func Sign(s sun.State) string {
	p := &pen{}
	p.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 40 32", "width", "40", "height", "32",
		"data-picture", "sign", "aria-hidden", "true", "focusable", "false")
	look := signs[min(int(s), len(signs)-1)]
	p.put("rect", "width", 40.0, "height", 32.0, "rx", 4.0, "fill", look.sky, "data-s", "sign-sky")
	if look.sun != "" {
		p.put("circle", "cx", 20.0, "cy", 14.0, "r", 7.5, "fill", look.sun, "data-s", "sign-sun")
	}
	if look.bars != "" {
		p.put("path", "d", look.bars, "fill", "none", "stroke", look.cloud, "stroke-width", look.wide, "stroke-linecap", "round", "data-s", "sign-bars")
	}
	if look.falls != "" {
		p.put("path", "d", look.falls, "fill", "none", "stroke", "#23254d", "stroke-width", 1.8, "stroke-linecap", "round", "data-s", "sign-falls")
	}
	p.shut("svg")
	return p.b.String()
}

// signs draws each look by its sky, sun, bars and what falls or floats.
var signs = [sun.States]struct {
	sky, sun, cloud, bars string
	wide                  float64
	falls                 string
}{
	sun.Clear:    {sky: "#9fcfd8", sun: "#fdf0bf"},
	sun.ThinVeil: {sky: "#b9d6d8", sun: "#fdf0bf", cloud: "#eef3f0", bars: "M5 11h30M8 17h24", wide: 1.6},
	sun.HalfCloud: {sky: "#9fcfd8", sun: "#fdf0bf", cloud: "#ffffff",
		bars: "M15 17h19M20 22h16", wide: 4},
	sun.Overcast: {sky: "#93a2a8", cloud: "#e6e8e4", bars: "M7 9h22M13 15h22M6 21h24", wide: 4},
	sun.Rain:     {sky: "#788a93", cloud: "#d5d9d6", bars: "M7 8h24M11 14h22", wide: 4, falls: "M12 20l-2 6M20 20l-2 6M28 20l-2 6"},
	sun.Smoke:    {sky: "#c79b72", sun: "#d9542b", cloud: "#8b6a52", bars: "M5 20q5-4 10 0t10 0t10 0M5 26q5-4 10 0t10 0t10 0", wide: 2.2},
	sun.Dust:     {sky: "#e2c98f", sun: "#f7ecc8", falls: "M7 24h0M13 27h0M19 23h0M25 27h0M31 24h0M35 28h0M9 29h0"},
}
