package draw

import (
	"math"
	"strconv"
	"strings"
)

// A pen writes SVG. Numbers are tenths of a pixel; what is not finite is
// written as 0, so that one bad number never loses the picture.
type pen struct{ b strings.Builder }

// open starts an element that has content; attributes come in pairs of name
// and value, a value being a string or a float64.
func (p *pen) open(name string, attrs ...any) {
	p.tag(name, attrs)
	p.b.WriteByte('>')
}

// shut ends it.
func (p *pen) shut(name string) {
	p.b.WriteString("</")
	p.b.WriteString(name)
	p.b.WriteByte('>')
}

// put writes an element without content.
func (p *pen) put(name string, attrs ...any) {
	p.tag(name, attrs)
	p.b.WriteString("/>")
}

// shape writes a path with attributes that are written out: much less code
// than [pen.put] for what never changes.
func (p *pen) shape(d *path, attrs string) {
	p.b.WriteString(`<path d="`)
	p.b.Write(d.b)
	p.b.WriteString(`" `)
	p.b.WriteString(attrs)
	p.b.WriteString(`/>`)
}

// text writes a label.
func (p *pen) text(words string, attrs ...any) {
	p.open("text", attrs...)
	escape.WriteString(&p.b, words)
	p.shut("text")
}

func (p *pen) tag(name string, attrs []any) {
	p.b.WriteByte('<')
	p.b.WriteString(name)
	for i := 0; i+1 < len(attrs); i += 2 {
		p.b.WriteByte(' ')
		p.b.WriteString(attrs[i].(string))
		p.b.WriteString(`="`)
		switch v := attrs[i+1].(type) {
		case string:
			escape.WriteString(&p.b, v)
		case float64:
			p.b.WriteString(figure(v))
		}
		p.b.WriteByte('"')
	}
}

var escape = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&#34;", "'", "&#39;")

// tenths rounds to a tenth of a pixel and keeps figures within what any
// screen has.
func tenths(v float64) int {
	if math.IsNaN(v) {
		return 0
	}
	return int(math.Round(10 * min(max(v, -1e5), 1e5)))
}

func figure(v float64) string { return string(appendTenths(nil, tenths(v))) }

// share writes a number from 0 to 1 to hundredths.
func share(v float64) string {
	if math.IsNaN(v) {
		v = 0
	}
	return strconv.FormatFloat(math.Round(100*min(max(v, 0), 1))/100, 'f', -1, 64)
}

func appendTenths(b []byte, t int) []byte {
	if t < 0 {
		b, t = append(b, '-'), -t
	}
	if t >= 10 || t%10 == 0 {
		b = strconv.AppendInt(b, int64(t/10), 10)
	}
	if t%10 != 0 {
		b = append(b, '.', byte('0'+t%10))
	}
	return b
}

// A path collects the d of a path element. Steps are relative: that halves
// the text.
type path struct {
	b    []byte
	x, y int // the pen's place, tenths
}

func (p *path) move(x, y float64) {
	p.x, p.y = tenths(x), tenths(y)
	p.b = append(p.b, 'M')
	p.pair(p.x, p.y)
}

func (p *path) line(x, y float64) {
	nx, ny := tenths(x), tenths(y)
	p.b = append(p.b, 'l')
	p.pair(nx-p.x, ny-p.y)
	p.x, p.y = nx, ny
}

// curve is a cubic to x, y that leaves and arrives level.
func (p *path) curve(x, y float64) {
	nx, ny := tenths(x), tenths(y)
	dx, dy := nx-p.x, ny-p.y
	p.b = append(p.b, 'c')
	p.pair(dx/2, 0)
	p.b = append(p.b, ' ')
	p.pair(dx-dx/2, dy)
	p.b = append(p.b, ' ')
	p.pair(dx, dy)
	p.x, p.y = nx, ny
}

func (p *path) close() { p.b = append(p.b, 'z') }

// dot is a zero-length stroke: a disc under round caps.
func (p *path) dot(x, y float64) {
	p.move(x, y)
	p.b = append(p.b, "h0"...)
}

// box is a rectangle.
func (p *path) box(x, y, w, h float64) {
	p.move(x, y)
	p.line(x+w, y)
	p.line(x+w, y+h)
	p.line(x, y+h)
	p.close()
}

// disc is a circle.
func (p *path) disc(x, y, r float64) {
	p.move(x-r, y)
	d := tenths(2 * r)
	for _, d := range []int{d, -d} {
		p.b = append(p.b, 'a')
		p.pair(tenths(r), tenths(r))
		p.b = append(p.b, " 0 1 0 "...)
		p.pair(d, 0)
	}
	p.close()
}

func (p *path) pair(x, y int) {
	p.b = appendTenths(p.b, x)
	if y >= 0 {
		p.b = append(p.b, ' ')
	}
	p.b = appendTenths(p.b, y)
}

func (p *path) empty() bool    { return len(p.b) == 0 }
func (p *path) String() string { return string(p.b) }

// thin keeps the points of a line that matter to within tolerance pixels
// (Douglas and Peucker's way of splitting at the farthest point).
func thin(x, y []float64, tolerance float64) []int {
	if len(x) < 3 {
		all := make([]int, len(x))
		for i := range all {
			all[i] = i
		}
		return all
	}
	keep := make([]bool, len(x))
	keep[0], keep[len(x)-1] = true, true
	spans := [][2]int{{0, len(x) - 1}}
	for len(spans) > 0 {
		a, b := spans[len(spans)-1][0], spans[len(spans)-1][1]
		spans = spans[:len(spans)-1]
		dx, dy := x[b]-x[a], y[b]-y[a]
		length := math.Hypot(dx, dy)
		worst, at := tolerance, 0
		for i := a + 1; i < b; i++ {
			d := math.Hypot(x[i]-x[a], y[i]-y[a])
			if length > 0 {
				d = math.Abs(dx*(y[i]-y[a])-dy*(x[i]-x[a])) / length
			}
			if d > worst {
				worst, at = d, i
			}
		}
		if at > 0 {
			keep[at] = true
			spans = append(spans, [2]int{a, at}, [2]int{at, b})
		}
	}
	var list []int
	for i, k := range keep {
		if k {
			list = append(list, i)
		}
	}
	return list
}

// width guesses how wide a label is: letters and digits of the app's type are
// about half as wide as high (measured in a browser: 0.47 in a sentence, 0.56
// in bold figures), and a little is to spare for another type.
func width(words string, size float64) float64 {
	return 0.55 * size * float64(len([]rune(words)))
}
