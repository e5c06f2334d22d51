//go:build js && wasm

// Command app is Stopcard inside the browser's worker. It sets two functions:
// stopcard(question, arguments, done) calls done with an object that holds text, bytes or
// an error, and is to be asked one question after another; stopcardStop() ends the work
// on the question in hand. Files are those that the worker's script has under their names.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"syscall/js"
	"time"

	"github.com/stopcard/stopcard/cmd/webapp/engine"
)

func main() {
	var e engine.Engine
	end := func() {}
	js.Global().Set("stopcard", js.FuncOf(func(_ js.Value, args []js.Value) any {
		question, text, done := args[0].String(), []byte(args[1].String()), args[2]
		ctx, cancel := context.WithCancel(context.Background())
		end = cancel
		go func() {
			defer cancel()
			done.Invoke(answer(&yielding{Context: ctx, last: time.Now()}, &e, question, text))
		}()
		return nil
	}))
	js.Global().Set("stopcardStop", js.FuncOf(func(js.Value, []js.Value) any {
		end()
		return nil
	}))
	js.Global().Call("stopcardReady")
	select {}
}

// yielding lets the worker hear what it is told meanwhile: long work looks at its
// context often.
type yielding struct {
	context.Context
	last time.Time
}

// unheard is how long the worker may be deaf, within what people take for at once.
const unheard = 80 * time.Millisecond

func (y *yielding) Err() error {
	if time.Since(y.last) > unheard {
		time.Sleep(time.Microsecond)
		y.last = time.Now()
	}
	return y.Context.Err()
}

// answer asks the engine. A fault of the program itself is an answer too: the page
// goes on with the next file.
func answer(ctx context.Context, e *engine.Engine, question string, text []byte) (out any) {
	defer func() {
		if p := recover(); p != nil {
			out = map[string]any{"error": fmt.Sprintf("this meets a fault in Stopcard itself: %v", p)}
		}
	}()
	got, err := e.Ask(ctx, question, text)
	if err != nil {
		return map[string]any{"error": err.Error(), "stopped": errors.Is(err, context.Canceled)}
	}
	switch got := got.(type) {
	case nil:
		return map[string]any{}
	case []byte:
		bytes := js.Global().Get("Uint8Array").New(len(got))
		js.CopyBytesToJS(bytes, got)
		return map[string]any{"bytes": bytes}
	}
	told, err := json.Marshal(got)
	if err != nil {
		return map[string]any{"error": err.Error()}
	}
	return map[string]any{"json": string(told)}
}
