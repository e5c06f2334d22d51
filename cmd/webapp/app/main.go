//go:build js && wasm

// Command app is Stopcard inside the browser's worker. It sets one function,
// stopcard(question, arguments), which answers with an object that holds text, bytes or
// an error. Files are those that the worker's script has under their names.
package main

import (
	"context"
	"encoding/json"
	"fmt"
	"syscall/js"

	"github.com/stopcard/stopcard/cmd/webapp/engine"
)

func main() {
	var e engine.Engine
	js.Global().Set("stopcard", js.FuncOf(func(_ js.Value, args []js.Value) any {
		return answer(&e, args)
	}))
	js.Global().Call("stopcardReady")
	select {}
}

// answer asks the engine. A fault of the program itself is an answer too: the page
// goes on with the next file.
func answer(e *engine.Engine, args []js.Value) (out any) {
	defer func() {
		if p := recover(); p != nil {
			out = map[string]any{"error": fmt.Sprintf("this meets a fault in Stopcard itself: %v", p)}
		}
	}()
	got, err := e.Ask(context.Background(), args[0].String(), []byte(args[1].String()))
	if err != nil {
		return map[string]any{"error": err.Error()}
	}
	switch got := got.(type) {
	case nil:
		return map[string]any{}
	case []byte:
		bytes := js.Global().Get("Uint8Array").New(len(got))
		js.CopyBytesToJS(bytes, got)
		return map[string]any{"bytes": bytes}
	}
	text, err := json.Marshal(got)
	if err != nil {
		return map[string]any{"error": err.Error()}
	}
	return map[string]any{"json": string(text)}
}
