package planning

import (
	"errors"
	"fmt"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"duskline/app/towns"
)

// An atlas is the list of towns of this page: not there until somebody looks
// for a town, then kept until the page goes.
type atlas struct {
	list    *towns.List
	opening bool
	failed  bool
	after   []func() // to be called when that has ended
}

var shipped atlas

// open opens the list beside the page and calls then on the page's goroutine,
// now if the list is there already. After a failure the next call tries again.
func (a *atlas) open(ctx app.Context, then func()) {
	if a.list != nil {
		then()
		return
	}
	a.after = append(a.after, then)
	if a.opening {
		return
	}
	a.opening, a.failed = true, false
	ctx.Async(func() {
		list, err := fetchTowns()
		if err != nil {
			app.Log("duskline:", err)
		}
		ctx.Dispatch(func(app.Context) {
			a.list, a.opening, a.failed = list, false, err != nil
			for _, do := range a.after {
				do()
			}
			a.after = nil
		})
	})
}

// fetchTowns asks the browser for the file, which comes from what is kept for
// use without a network.
func fetchTowns() (*towns.List, error) {
	at := app.Window().Get("appTowns")
	if !at.Truthy() {
		return nil, errors.New("towns: the page has no list")
	}
	answer, err := await(app.Window().Call("fetch", at))
	if err != nil {
		return nil, err
	}
	if !answer.Get("ok").Bool() {
		return nil, fmt.Errorf("towns: %s", answer.Get("status"))
	}
	buffer, err := await(answer.Call("arrayBuffer"))
	if err != nil {
		return nil, err
	}
	bytes := app.Window().Get("Uint8Array").New(buffer)
	data := make([]byte, bytes.Length())
	app.CopyBytesToGo(data, bytes)
	return towns.Load(data, func() { time.Sleep(time.Millisecond) }) // the page goes on meanwhile
}

// await waits for a promise. It must not be called on the page's goroutine.
func await(promise app.Value) (app.Value, error) {
	type outcome struct {
		value app.Value
		err   error
	}
	done := make(chan outcome, 1)
	kept := app.FuncOf(func(this app.Value, args []app.Value) any {
		done <- outcome{value: args[0]}
		return nil
	})
	broken := app.FuncOf(func(this app.Value, args []app.Value) any {
		done <- outcome{err: errors.New(args[0].Call("toString").String())}
		return nil
	})
	defer kept.Release()
	defer broken.Release()
	promise.Call("then", kept, broken)
	o := <-done
	return o.value, o.err
}
