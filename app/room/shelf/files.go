package shelf

import (
	"errors"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/room"
	"duskline/app/widget"
	"duskline/app/words"
	"duskline/calc/plan"
)

// download hands the text of a plan to the browser as a file, byte for byte
// as it is kept.
func (r *Room) download(id string) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		s := r.session()
		rec, ok := s.Shelf.Get(id)
		if !ok {
			return
		}
		name := "unreadable-" + id + ".json"
		if p, err := s.Read(id); err == nil {
			name = room.FileName(p.Name)
		}
		room.Give(name, rec.Text)
	}
}

// onFile reads a file that the person picked. Nothing over the limit of a
// document is even read.
func (r *Room) onFile(ctx app.Context, e app.Event) {
	input := ctx.JSSrc()
	file := input.Get("files").Index(0)
	if !file.Truthy() {
		return
	}
	name := file.Get("name").String()
	if file.Get("size").Float() > plan.MaxBytes {
		r.take(ctx, name, make([]byte, plan.MaxBytes+1))
		return
	}
	reader := app.Window().Get("FileReader").New()
	var done, failed app.Func
	release := func() { done.Release(); failed.Release() }
	done = app.FuncOf(func(app.Value, []app.Value) any {
		bytes := app.Window().Get("Uint8Array").New(reader.Get("result"))
		text := make([]byte, bytes.Length())
		app.CopyBytesToGo(text, bytes)
		ctx.Dispatch(func(ctx app.Context) { r.take(ctx, name, text) })
		release()
		return nil
	})
	failed = app.FuncOf(func(app.Value, []app.Value) any {
		ctx.Dispatch(func(app.Context) { r.refused = refused{file: name, err: words.T("plans.file_failed")} })
		release()
		return nil
	})
	reader.Set("onload", done)
	reader.Set("onerror", failed)
	reader.Call("readAsArrayBuffer", file)
	input.Set("value", "") // the same file can be picked again
}

// take puts a file's text on the shelf, or shows why not.
func (r *Room) take(ctx app.Context, file string, text []byte) {
	err := r.session().Import(text)
	if err == nil {
		r.refused = refused{}
		return
	}
	var faults plan.Faults
	if !errors.As(err, &faults) {
		r.refused = refused{file: file, err: err.Error()}
		return
	}
	r.refused = refused{file: file, faults: faults}
}

// refusal says why the last file was not taken.
func (r *Room) refusal() app.UI {
	if r.refused.file == "" {
		return widget.Nothing()
	}
	why := app.UI(app.P().ID("import-faults").Class("fault").Text(r.refused.err))
	if r.refused.faults != nil {
		why = reasons("import-faults", r.refused.faults)
	}
	return app.Div().ID("import-refused").Class("said").DataSet("grade", "caution").Role("alert").Body(
		app.Div().Body(app.P().Text(words.T("plans.refused", r.refused.file)), why),
		app.Button().ID("import-close").Class("icon").Type("button").Aria("label", words.T("frame.close")).Text("×").
			OnClick(func(ctx app.Context, e app.Event) { r.refused = refused{} }),
	)
}
