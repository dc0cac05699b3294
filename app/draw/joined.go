package draw

import (
	"strconv"
	"strings"

	"duskline/app/words"
	"duskline/calc/qty"
)

// A Joined is panels as they are wired together: strings side by side, in each
// string panels end to end. Panels side by side are strings of one.
type Joined struct {
	Strings []String
	Diode   bool       // each string has a blocking diode that takes volts
	Cable   string     // worded: from the joint to the Case; "" for none
	Volts   qty.Volt   // of the whole, where it gives most
	Amps    qty.Ampere // likewise
	Alone   qty.Watt   // all panels, each by itself
}

// A String is panels end to end.
type String struct {
	Number int // as the plan has it, 0: none
	Wired  []Wired
	Volts  qty.Volt   // of the string by itself, where it gives most
	Amps   qty.Ampere // likewise
}

// A Wired is so many panels of one kind. Volts and Amps are those of one of
// them by itself, where it gives most.
type Wired struct {
	Name  string
	Count int
	Rated qty.Watt
	Volts qty.Volt
	Amps  qty.Ampere
}

const (
	joinedSize   = 14 // of the letters, pixels
	joinedTop    = 8.0
	joinedRow    = 50.0  // a string whose words stand beside its panels, volts and amps on one line
	joinedTall   = 84.0  // one whose words stand over and under them
	joinedTurn   = 14.0  // more where a string goes on to a next line
	joinedWide   = 118   // a panel with its words beside it
	joinedNarrow = 58.0  // one with its words over and under it
	joinedBoth   = 168.0 // one with volts and amps on one line beside it
	joinedBus    = 14.0  // from the side of the picture to the wire down
	joinedFoot   = 60.0  // the Case and the way to it
	joinedMost   = 6     // strings that are drawn one by one
)

// DrawJoined draws the way from the panels to the Case: a line for each string
// with its panels on it, minus at the left, plus at the right, and at the foot
// the Case with what comes in. The picture is as high as it needs to be.
func DrawJoined(j Joined, f Frame) string {
	f = f.least()
	g := &joined{Joined: j, f: f, left: joinedBus, right: max(f.Width-joinedBus, joinedBus+joinedNarrow)}
	g.lay()
	height := g.height + joinedFoot
	if j.Cable != "" {
		height += joinedSize + 6
	}
	g.open("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", "0 0 "+figure(f.Width)+" "+figure(height),
		"width", "100%", "role", "img", "data-picture", "joined", "aria-label",
		words.T("picture.joined", len(g.rows), words.Volts(j.Volts), words.Amps(j.Amps)))
	g.wires(height)
	for i := range g.rows {
		g.row(&g.rows[i])
	}
	g.foot(height)
	g.shut("svg")
	return g.b.String()
}

// joined is a picture being drawn.
type joined struct {
	Joined
	pen
	f           Frame
	left, right float64 // the wires down
	rows        []joinedLine
	height      float64 // of all lines
	minus, plus path
	behind      path
	panels      path
	cells       path
	diodes      path
}

// A joinedLine is one string, or several alike, as it is laid out.
type joinedLine struct {
	like    int // so many strings of this kind
	wired   []Wired
	stacked bool // panels of a kind are one box
	perLine int  // boxes on one line of it
	wide    bool // words beside the boxes
	apart   bool // amps on a line of their own
	y       float64
}

// lay finds the lines and their places.
func (g *joined) lay() {
	together := len(g.Strings) > joinedMost
	for _, s := range g.Strings {
		if n := len(g.rows); together && n > 0 && sameWired(g.rows[n-1].wired, s.Wired) {
			g.rows[n-1].like++
			continue
		}
		g.rows = append(g.rows, joinedLine{like: 1, wired: s.Wired})
	}
	y := joinedTop
	for i := range g.rows {
		r := &g.rows[i]
		room := g.right - g.left - 12
		if g.Diode {
			room -= 22
		}
		most := max(int(room/joinedNarrow), 1)
		if n := r.boxes(); n > most {
			r.stacked = true
		}
		n := r.boxes()
		r.wide = float64(n)*joinedWide <= room
		r.perLine = min(n, most)
		if r.wide {
			r.apart = room/float64(n) < joinedBoth
			r.y = y + joinedRow/2
			if y += joinedRow; r.apart {
				y += joinedSize
			}
			continue
		}
		r.apart = true
		r.y = y + 36
		more := float64((n - 1) / max(r.perLine, 1))
		y += joinedTall + more*(joinedTall+joinedTurn)
	}
	g.height = y
}

// boxes is how many boxes a string takes.
func (r *joinedLine) boxes() int {
	if r.stacked || r.like > 1 {
		return len(r.wired)
	}
	n := 0
	for _, w := range r.wired {
		n += w.Count
	}
	return n
}

func sameWired(a, b []Wired) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// wires draws the two wires down to the Case, which the strings hang on.
func (g *joined) wires(height float64) {
	top := joinedTop + 24
	if len(g.rows) > 0 {
		top = g.rows[0].y
	}
	foot := height - 20
	g.minus.move(g.left, top)
	g.minus.line(g.left, foot)
	g.minus.line(g.left+20, foot)
	g.plus.move(g.right, top)
	g.plus.line(g.right, foot)
	g.plus.line(g.right-20, foot)
	g.text("−", "x", g.left, "y", top-8, "text-anchor", "middle", "font-size", 18.0, "font-weight", "700", "fill", "#1d1a2b", "data-s", "joined-name")
	g.text("+", "x", g.right, "y", top-8, "text-anchor", "middle", "font-size", 18.0, "font-weight", "700", "fill", "#1d1a2b", "data-s", "joined-name")
}

// row draws one string from minus to plus.
func (g *joined) row(r *joinedLine) {
	type unit struct {
		w Wired
		n int
	}
	var units []unit
	for _, w := range r.wired {
		if r.stacked || r.like > 1 {
			units = append(units, unit{w, w.Count})
			continue
		}
		for range w.Count {
			units = append(units, unit{w, 1})
		}
	}
	end := g.right
	if g.Diode {
		end -= 22
	}
	from := g.left + 8
	slot := (end - from - 4) / float64(max(r.perLine, 1))
	x, y := g.left, r.y
	for i, u := range units {
		at := i % r.perLine
		if i > 0 && at == 0 { // on to the next line of the string
			next := y + joinedTall + joinedTurn
			turn, side := next-40, min(end, g.right-8)
			g.minus.move(x, y)
			g.minus.line(side, y)
			g.minus.line(side, turn)
			g.minus.line(from, turn)
			g.minus.line(from, next)
			x, y = from, next
		}
		cx := from + slot*(float64(at)+0.5)
		if r.wide {
			cx = from + slot*float64(at) + 26
		}
		g.minus.move(x, y)
		g.minus.line(cx-20, y)
		g.panel(cx, y, u.n > 1 || r.like > 1)
		g.says(u.w, u.n, r, cx, y)
		x = cx + 20
	}
	g.plus.move(x, y)
	if g.Diode {
		g.plus.line(end, y)
		g.diodes.move(end, y-7)
		g.diodes.line(end+12, y)
		g.diodes.line(end, y+7)
		g.diodes.close()
		g.diodes.move(end+12, y-7)
		g.diodes.line(end+12, y+7)
		g.plus.move(end+12, y)
	}
	g.plus.line(g.right, y)
}

// panel draws one, leaning, with its cells; a second one behind it stands for
// several.
func (g *joined) panel(x, y float64, several bool) {
	lean := func(p *path, x, y float64) {
		p.move(x-20, y+15)
		p.line(x-12, y-15)
		p.line(x+20, y-15)
		p.line(x+12, y+15)
		p.close()
	}
	if several {
		lean(&g.behind, x+5, y-5)
	}
	lean(&g.panels, x, y)
	for _, d := range []float64{-8, 0, 8} {
		g.cells.move(x+d+4, y-15)
		g.cells.line(x+d-4, y+15)
	}
	g.cells.move(x-16, y)
	g.cells.line(x+16, y)
}

// says writes what a box is and gives.
func (g *joined) says(w Wired, n int, r *joinedLine, x, y float64) {
	over := words.Watts(w.Rated)
	if n > 1 {
		over = words.T("joined_pic.times", strconv.Itoa(n), over)
	}
	volts, amps := w.Volts*qty.Volt(n), w.Amps
	if r.like > 1 {
		over = words.T("joined_pic.times", strconv.Itoa(r.like), over)
		amps *= qty.Ampere(r.like)
	}
	anchor, ox, oy, uy := "middle", x, y-20, y+15+joinedSize
	if r.wide {
		anchor, ox, oy, uy = "start", x+30, y-6, y+joinedSize+3
	} else if n > 1 || r.like > 1 {
		over = strings.ReplaceAll(over, words.Space, "")
		oy -= 5
	}
	say := func(text, weight string, y float64) {
		g.text(text, "x", ox, "y", y, "text-anchor", anchor, "font-size", float64(joinedSize), "font-weight", weight,
			"fill", "#1d1a2b", "data-s", "joined-name")
	}
	say(over, "700", oy)
	if !r.apart {
		say(words.T("joined_pic.gives", words.Volts(volts), words.Amps(amps)), "400", uy)
		return
	}
	say(words.Volts(volts), "400", uy)
	say(words.Amps(amps), "400", uy+joinedSize+1)
}

// foot draws what was collected, and the Case with what comes in.
func (g *joined) foot(height float64) {
	g.shape(&g.minus, `fill="none" stroke="#1d1a2b" stroke-width="2.4" stroke-linejoin="round" data-s="joined-minus"`)
	g.shape(&g.plus, `fill="none" stroke="#d9542b" stroke-width="2.4" stroke-linejoin="round" data-s="joined-plus"`)
	if !g.behind.empty() {
		g.shape(&g.behind, `fill="#4b4f86" stroke="#f7efe0" data-s="joined-behind"`)
	}
	if !g.panels.empty() {
		g.shape(&g.panels, `fill="#23254d" stroke="#f7efe0" data-s="joined-panel"`)
		g.shape(&g.cells, `fill="none" stroke="#8f93c9" stroke-width="1.2" data-s="joined-cells"`)
	}
	if !g.diodes.empty() {
		g.shape(&g.diodes, `fill="#d9542b" stroke="#d9542b" stroke-width="2.4" data-s="joined-diode"`)
	}
	if g.Cable != "" {
		g.text(g.Cable, "x", g.f.Width/2, "y", height-joinedFoot+4, "text-anchor", "middle", "font-size", float64(joinedSize),
			"fill", "#1d1a2b", "data-s", "joined-name")
	}
	var box path
	box.box(g.left+20, height-40, g.right-g.left-40, 38)
	g.shape(&box, `fill="#5d3a6e" data-s="joined-case"`)
	line := words.T("joined_pic.case", words.Volts(g.Volts), words.Amps(g.Amps), words.Watts(qty.Power(g.Volts, g.Amps)))
	size := min(joinedSize+1, (g.right-g.left-50)/(0.58*float64(len([]rune(line)))))
	g.text(line, "x", g.f.Width/2, "y", height-21+0.36*size, "text-anchor", "middle", "font-size", size, "font-weight", "700",
		"fill", "#ffffff", "data-s", "joined-case-name")
}

// JoinedTable is the same in figures: each kind of panel by itself, each
// string of several, all together.
func JoinedTable(j Joined) Table {
	t := Table{
		Caption: words.T("table.joined"),
		Head:    []string{words.Column("panel"), words.Column("volts"), words.Column("amps"), words.Column("watts")},
	}
	row := func(name string, v qty.Volt, i qty.Ampere) {
		t.Rows = append(t.Rows, []string{name, words.Volts(v), words.Amps(i), words.Watts(qty.Power(v, i))})
	}
	for i, s := range j.Strings {
		several := len(s.Wired) > 1
		for _, w := range s.Wired {
			several = several || w.Count > 1
			name := w.Name
			if w.Count > 1 {
				name = words.T("joined_pic.each", strconv.Itoa(w.Count), w.Name)
			}
			if i > 0 && !several && sameWired(j.Strings[i-1].Wired, s.Wired) {
				continue // side by side: once is enough
			}
			row(name, w.Volts, w.Amps)
		}
		if several && len(j.Strings) > 1 {
			row(words.T("joined_pic.string", strconv.Itoa(s.Number)), s.Volts, s.Amps)
		}
	}
	row(words.T("joined_pic.whole"), j.Volts, j.Amps)
	return t
}
