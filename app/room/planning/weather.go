package planning

import (
	"errors"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/room/desk"
	"duskline/app/store"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
	epw "duskline/calc/weather" // the sheet has a weather of its own
)

// weatherFields are those of a weather file in the Sky fold.
func (s *sheet) weatherFields(f form) []app.UI {
	return []app.UI{
		&weatherFile{Session: s.Session, Desk: f.d, Serial: f.d.Serial(), Turn: s.Session.Weather.Turn()},
		f.fault("/sky/weather_file"),
	}
}

// weatherFile is where a weather file is taken, and what is known of the one
// that the plan has. It is a component of its own, since it goes on while a
// file is read and nothing else of the page changes.
type weatherFile struct {
	app.Compo

	Session *room.Session
	Desk    *desk.Desk
	Serial  int // of the desk
	Turn    int // of the files

	over bool // a file is held over it
}

// OnMount looks for the year of the plan on this device.
func (w *weatherFile) OnMount(ctx app.Context) {
	w.Session.Weather.Watch(func() { ctx.Dispatch(func(app.Context) {}) })
	w.Session.Weather.Look()
}

// OnDismount stops listening.
func (w *weatherFile) OnDismount() { w.Session.Weather.Watch(nil) }

func (w *weatherFile) Render() app.UI {
	t := w.Session.Weather.Taking()
	p := w.Desk.Plan()
	take, class := words.T("file.take"), "button small strong"
	if p.Sky.WeatherFile != nil {
		take, class = words.T("file.take_again"), "button small"
	}
	return app.Div().ID("weather-file").Class("field drop").Attr("data-over", w.over).
		On("dragover", w.onOver).On("dragleave", w.onLeave).On("drop", w.onDrop).
		Body(
			w.known(p),
			app.Div().Class("row").Body(
				app.Label().ID("weather-take").Class(class).For("weather-input").Body(
					app.Span().Text(take),
					app.Input().ID("weather-input").Class("file").Type("file").Accept(".epw").
						Aria("describedby", "weather-help").OnChange(w.onPick),
				),
			),
			app.P().ID("weather-help").Class("help").Text(words.T("file.help")+" "+words.T("file.drop")),
			w.progress(t),
			w.outcome(t),
		)
}

// progress is there while a file is read.
func (w *weatherFile) progress(t room.Taking) app.UI {
	if t.State != room.TakingReading {
		return widget.Nothing()
	}
	line := words.T("file.reading", t.File)
	if t.OnPage {
		line += " " + words.T("file.on_page")
	}
	percent := int(100 * t.Share)
	// A <progress> of the browser's would look the same and cost the program
	// 20 kB, as each kind of element does.
	bar := app.Div().ID("weather-progress").Class("progress").Role("progressbar").Aria("label", line).
		Aria("valuenow", percent).DataSet("tenths", percent/10)
	return app.Div().ID("weather-reading").Class("reading-file").Role("status").Body(
		app.P().Text(line),
		app.Div().Class("row").Body(
			bar,
			app.Button().ID("weather-cancel").Class("small").Type("button").Text(words.T("file.cancel")).OnClick(w.onCancel),
		),
	)
}

// outcome says how the last taking ended, if not well.
func (w *weatherFile) outcome(t room.Taking) app.UI {
	says := func(key string, more ...app.UI) app.UI {
		body := append([]app.UI{app.P().Text(words.T(key, t.File))}, more...)
		return app.Div().ID("weather-said").Class("fault").Role("alert").Body(body...)
	}
	switch t.State {
	case room.TakingRefused:
		return says("file.refused", faultLines(t.Faults))
	case room.TakingMisfit:
		body := []app.UI{app.Ul().Body(app.Li().Text(words.FaultLine(t.Misfits[0])))}
		if room.Apart(w.Desk.Plan(), t.Year) > near {
			body = append(body, app.P().Text(words.T("file.may_be_there", distance(w.Desk.Plan(), t.Year))), w.mover())
		}
		return says("file.no_trip", body...)
	case room.TakingLost:
		return says("file.lost")
	case room.TakingUnreadable:
		return says("file.unreadable")
	}
	return widget.Nothing()
}

const (
	shownFaults = 3  // of a file are read out
	mostFaults  = 20 // are looked for, see epw.Errors
)

func faultLines(faults epw.Errors) app.UI {
	lines := make([]app.UI, 0, shownFaults+1)
	for _, e := range faults[:min(shownFaults, len(faults))] {
		lines = append(lines, app.Li().Text(words.WeatherFault(e)))
	}
	if more := len(faults) - shownFaults; more > 0 {
		line := words.T("file.more_faults", more)
		if len(faults) == mostFaults {
			line = words.T("file.20_faults")
		}
		lines = append(lines, app.Li().Text(line))
	}
	return app.Ul().ID("weather-faults").Body(lines...)
}

// near is how far the file's place may be from the plan's before the page
// offers to move the plan, metres. Our own choice, practice.
const near = 5000

// known says what the plan has from a file, and what is known of that file.
func (w *weatherFile) known(p *plan.Plan) app.UI {
	hours := p.Sky.WeatherFile
	if hours == nil || p.Sky.Light != plan.ByWeatherFile {
		return widget.Nothing()
	}
	files := w.Session.Weather
	here := hours.Start.In(p.Trip.Start.Location())
	end := here.Add(time.Duration(len(hours.GHI)) * time.Hour)
	lines := []string{words.T("file.hours", words.Dates(here, end.Add(-time.Minute)))}
	if files.Taking().Moved {
		lines = append(lines, words.T("file.moved"))
	}
	var move app.UI = widget.Nothing()
	switch y := files.Year(p); {
	case y != nil:
		if room.Apart(p, y) > near {
			lines = append(lines, words.T("file.near", distance(p, y)))
			move = w.mover()
		} else if !files.Taking().Moved {
			lines = append(lines, words.T("file.at"))
		}
		lines = append(lines, missing(y.Missing)...)
		if room.Leaps(p, y) {
			lines = append(lines, words.T("file.leap"))
		}
		lines = append(lines, keptLine(files.Trouble()))
	case files.Ready():
		lines = append(lines, words.T("file.not_here"))
	default:
		lines = append(lines, words.T("file.looking"))
	}
	if len(hours.AirC) == 0 {
		lines = append(lines, words.T("file.own_air"))
	}
	if len(hours.WindMs) == 0 {
		lines = append(lines, words.T("file.own_wind"))
	}
	items := make([]app.UI, len(lines))
	for i, line := range lines {
		items[i] = app.Li().Text(line)
	}
	return app.Div().ID("weather-known").Body(
		app.P().Class("file-name").Text(words.T("file.from", hours.Name)),
		app.Ul().Class("file-facts").Body(items...),
		move,
	)
}

func (w *weatherFile) mover() app.UI {
	return app.Div().Class("row").Body(
		app.Button().ID("weather-move").Class("small").Type("button").Text(words.T("file.move")).OnClick(w.onMove))
}

func distance(p *plan.Plan, y *epw.Year) string {
	return words.Amount(float64(room.Apart(p, y))/1000, 0, "km")
}

// missing counts what the file lacks.
func missing(m epw.Missing) []string {
	var lines []string
	for _, c := range []struct {
		key string
		n   int
	}{
		{"file.no_light", m.Light}, {"file.made_up", m.Global + m.Diffuse}, {"file.trimmed", m.Trimmed},
		{"file.no_air", m.Air}, {"file.no_wind", m.Wind},
	} {
		if c.n > 0 {
			lines = append(lines, words.T(c.key, c.n))
		}
	}
	if lines == nil {
		lines = []string{words.T("file.all_there")}
	}
	return lines
}

// keptLine says whether the year is there tomorrow.
func keptLine(trouble error) string {
	switch {
	case trouble == nil:
		return words.T("file.kept")
	case errors.Is(trouble, store.ErrFull):
		return words.T("file.not_kept_full")
	}
	return words.T("file.not_kept")
}

func (w *weatherFile) onCancel(ctx app.Context, e app.Event) { w.Session.Weather.Cancel() }
func (w *weatherFile) onMove(ctx app.Context, e app.Event)   { w.Session.Weather.Move() }

func (w *weatherFile) onPick(ctx app.Context, e app.Event) {
	input := ctx.JSSrc()
	w.read(ctx, input.Get("files").Index(0))
	input.Set("value", "") // the same file can be picked again
}

// onOver lets the browser know that a file may be dropped here.
func (w *weatherFile) onOver(ctx app.Context, e app.Event) {
	e.PreventDefault()
	w.over = true
}

func (w *weatherFile) onLeave(ctx app.Context, e app.Event) { w.over = false }

func (w *weatherFile) onDrop(ctx app.Context, e app.Event) {
	e.PreventDefault()
	w.over = false
	w.read(ctx, e.Get("dataTransfer").Get("files").Index(0))
}

// read has the browser hand a file over. One over the limit is not even read.
func (w *weatherFile) read(ctx app.Context, file app.Value) {
	if !file.Truthy() {
		return
	}
	files, name := w.Session.Weather, file.Get("name").String()
	if size := file.Get("size").Float(); size > epw.MaxBytes {
		files.Refuse(name, room.TakingRefused, epw.Errors{{Kind: epw.TooBig, Found: strconv.FormatFloat(size, 'f', 0, 64), Max: epw.MaxBytes, Unit: "B"}})
		return
	}
	files.Begin(name)
	reader := app.Window().Get("FileReader").New()
	var done, failed app.Func
	end := func(do func()) {
		ctx.Dispatch(func(app.Context) { do() })
		done.Release()
		failed.Release()
	}
	done = app.FuncOf(func(app.Value, []app.Value) any {
		bytes := app.Window().Get("Uint8Array").New(reader.Get("result"))
		data := make([]byte, bytes.Length())
		app.CopyBytesToGo(data, bytes)
		end(func() {
			if t := files.Taking(); t.State == room.TakingReading && t.File == name { // not cancelled meanwhile
				files.Take(name, data)
			}
		})
		return nil
	})
	failed = app.FuncOf(func(app.Value, []app.Value) any {
		end(func() { files.Refuse(name, room.TakingUnreadable, nil) })
		return nil
	})
	reader.Set("onload", done)
	reader.Set("onerror", failed)
	reader.Call("readAsArrayBuffer", file)
}
