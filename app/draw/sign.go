package draw

import "duskline/calc/sun"

// Sign is the look of a sky as a small tile, in the signs of the dusk strip:
// the sun's disc, and bars over it for cloud. The look's name stands beside
// it, so the tile itself says nothing to a screen reader.
func Sign(s sun.State) string {
	p := &pen{}
	p.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 40 32", "width", "40", "height", "32",
		"data-picture", "sign", "aria-hidden", "true", "focusable", "false")
	p.b.WriteString(signs[min(int(s), len(signs)-1)])
	p.shut("svg")
	return p.b.String()
}

// signs draws each look by its sky, sun, bars and what falls or floats.
var signs = [sun.States]string{
	sun.Clear: `<rect width="40" height="32" rx="4" fill="#9fcfd8" data-s="sign-sky"/>` +
		`<circle cx="20" cy="14" r="7.5" fill="#fdf0bf" data-s="sign-sun"/>`,
	sun.ThinVeil: `<rect width="40" height="32" rx="4" fill="#b9d6d8" data-s="sign-sky"/>` +
		`<circle cx="20" cy="14" r="7.5" fill="#fdf0bf" data-s="sign-sun"/>` +
		`<path d="M5 11h30M8 17h24" fill="none" stroke="#eef3f0" stroke-width="1.6" stroke-linecap="round" data-s="sign-bars"/>`,
	sun.HalfCloud: `<rect width="40" height="32" rx="4" fill="#9fcfd8" data-s="sign-sky"/>` +
		`<circle cx="20" cy="14" r="7.5" fill="#fdf0bf" data-s="sign-sun"/>` +
		`<path d="M15 17h19M20 22h16" fill="none" stroke="#ffffff" stroke-width="4" stroke-linecap="round" data-s="sign-bars"/>`,
	sun.Overcast: `<rect width="40" height="32" rx="4" fill="#93a2a8" data-s="sign-sky"/>` +
		`<path d="M7 9h22M13 15h22M6 21h24" fill="none" stroke="#e6e8e4" stroke-width="4" stroke-linecap="round" data-s="sign-bars"/>`,
	sun.Rain: `<rect width="40" height="32" rx="4" fill="#788a93" data-s="sign-sky"/>` +
		`<path d="M7 8h24M11 14h22" fill="none" stroke="#d5d9d6" stroke-width="4" stroke-linecap="round" data-s="sign-bars"/>` +
		`<path d="M12 20l-2 6M20 20l-2 6M28 20l-2 6" fill="none" stroke="#23254d" stroke-width="1.8" stroke-linecap="round" data-s="sign-falls"/>`,
	sun.Smoke: `<rect width="40" height="32" rx="4" fill="#c79b72" data-s="sign-sky"/>` +
		`<circle cx="20" cy="14" r="7.5" fill="#d9542b" data-s="sign-sun"/>` +
		`<path d="M5 20q5-4 10 0t10 0t10 0M5 26q5-4 10 0t10 0t10 0" fill="none" stroke="#8b6a52" stroke-width="2.2" stroke-linecap="round" data-s="sign-bars"/>`,
	sun.Dust: `<rect width="40" height="32" rx="4" fill="#e2c98f" data-s="sign-sky"/>` +
		`<circle cx="20" cy="14" r="7.5" fill="#f7ecc8" data-s="sign-sun"/>` +
		`<path d="M7 24h0M13 27h0M19 23h0M25 27h0M31 24h0M35 28h0M9 29h0" fill="none" stroke="#23254d" stroke-width="1.8" stroke-linecap="round" data-s="sign-falls"/>`,
}
