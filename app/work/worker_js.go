package work

import (
	"errors"
	"fmt"
	"syscall/js"
)

// The two sides of a worker in the browser. The page posts one message to it,
// {module, name, in}; worker.js keeps the job in globalThis.dusklineJob and
// runs the program, whose main finds no document and calls Serve.

// errNoWorker is a browser that has no workers, or a page whose boot script
// left no program for them.
var errNoWorker = errors.New("no worker to be had here")

// jsHand is a Worker of the browser.
type jsHand struct {
	worker js.Value
	hears  []js.Func
}

func hire() (h hand, err error) {
	defer guard(&err)
	g := js.Global()
	if !g.Get("Worker").Truthy() || !g.Get("appModule").Truthy() || !g.Get("appWorker").Truthy() {
		return nil, errNoWorker
	}
	return &jsHand{worker: g.Get("Worker").New(g.Get("appWorker"))}, nil
}

func (h *jsHand) begin(name string, in []byte, say func(word)) (err error) {
	defer guard(&err)
	h.on("onmessage", func(e js.Value) { say(wordOf(e.Get("data"))) })
	lost := func(e js.Value) {
		text := "no message"
		if m := e.Get("message"); m.Truthy() {
			text = m.String()
		}
		say(word{kind: saysDied, text: text})
	}
	h.on("onerror", lost) // its script did not load, or threw
	h.on("onmessageerror", lost)
	bytes := js.Global().Get("Uint8Array").New(len(in))
	js.CopyBytesToJS(bytes, in)
	h.worker.Call("postMessage", map[string]any{
		"module": js.Global().Get("appModule"), "name": name, "in": bytes,
	}, []any{bytes.Get("buffer")})
	return nil
}

func (h *jsHand) on(event string, hear func(js.Value)) {
	f := js.FuncOf(func(this js.Value, args []js.Value) any { hear(args[0]); return nil })
	h.hears = append(h.hears, f)
	h.worker.Set(event, f)
}

func (h *jsHand) end() {
	for _, event := range []string{"onmessage", "onerror", "onmessageerror"} {
		h.worker.Set(event, nil)
	}
	h.worker.Call("terminate")
	for _, f := range h.hears {
		f.Release()
	}
	h.hears = nil
}

func wordOf(m js.Value) word {
	w := word{kind: m.Get("kind").String()}
	switch w.kind {
	case saysShare:
		w.share = m.Get("share").Float()
	case saysDone:
		out := m.Get("out")
		w.out = make([]byte, out.Length())
		js.CopyBytesToGo(w.out, out)
	case saysFailed, saysDied:
		w.text = m.Get("text").String()
	}
	return w
}

// Serve is the whole of the program in a worker: it does the one job that was
// posted with it and returns.
func Serve(jobs map[string]Job) {
	g := js.Global()
	post := func(kind string, with map[string]any, transfer ...any) {
		with["kind"] = kind
		g.Call("postMessage", with, transfer)
	}
	post(saysBegun, map[string]any{})
	given := g.Get("dusklineJob")
	name := given.Get("name").String()
	in := make([]byte, given.Get("in").Length())
	js.CopyBytesToGo(in, given.Get("in"))
	g.Delete("dusklineJob") // its bytes are here now

	job, ok := jobs[name]
	if !ok {
		post(saysFailed, map[string]any{"text": fmt.Sprintf("%v: %q", ErrNoJob, name)})
		return
	}
	out, err := try(job, in, func(share float64) { post(saysShare, map[string]any{"share": share}) })
	switch {
	case errors.Is(err, ErrDied):
		post(saysDied, map[string]any{"text": err.Error()})
	case err != nil:
		post(saysFailed, map[string]any{"text": err.Error()})
	default:
		bytes := g.Get("Uint8Array").New(len(out))
		js.CopyBytesToJS(bytes, out)
		post(saysDone, map[string]any{"out": bytes}, bytes.Get("buffer"))
	}
}

// guard turns a JavaScript exception into an error.
func guard(err *error) {
	if x := recover(); x != nil {
		*err = fmt.Errorf("%w: %v", errNoWorker, x)
	}
}
