//go:build js && wasm

// Command engine is the engine in the browser: a thin shim that hands bytes to
// internal/engine and back. It sets one global, doorsillEngine, and then waits
// for calls:
//
//	load(rules: Uint8Array): string            rules text; "" or what is wrong
//	score(visit: Uint8Array): Uint8Array | string   visit text; a string is an error
//	plausible(what, site, value, unit): string  see strength.Plausible
//	thresholds(): string                        see engine.Thresholds
//	repeats(text), run(line), convert(text): string   for the measuring screens,
//	                                            see the functions of engine
//	plan(chair, place): string                  see engine.Plan
//	advice(problem): string                     see advice.Advice
//	trend(visits): string                       see engine.Trend
//
// It imports neither fmt nor encoding/json: they would make it half as large
// again. A test holds that.
package main

import (
	"math"
	"syscall/js"

	"doorsill/internal/checklist/rules"
	"doorsill/internal/engine"
	"doorsill/internal/engine/advice"
	"doorsill/internal/engine/strength"
)

func main() {
	var scorer *engine.Scorer
	// Looked up once: every lookup goes to JavaScript and back.
	uint8Array := js.Global().Get("Uint8Array")
	bytesAt := func(args []js.Value, i int) []byte { return bytesAt(uint8Array, args, i) }
	functions := map[string]any{
		"load": js.FuncOf(func(_ js.Value, args []js.Value) any {
			set, err := rules.Read(bytesAt(args, 0))
			if err != nil {
				return err.Error()
			}
			scorer = engine.New(set)
			return ""
		}),
		"score": js.FuncOf(func(_ js.Value, args []js.Value) any {
			if scorer == nil {
				return "no checklist loaded: call load first"
			}
			result, err := scorer.Score(bytesAt(args, 0))
			if err != nil {
				return err.Error()
			}
			out := uint8Array.New(len(result))
			js.CopyBytesToJS(out, result)
			return out
		}),
		"plausible": js.FuncOf(func(_ js.Value, args []js.Value) any {
			return strength.Plausible(textAt(args, 0), textAt(args, 1), numberAt(args, 2), textAt(args, 3))
		}),
		"thresholds": js.FuncOf(func(js.Value, []js.Value) any { return engine.Thresholds() }),
		"repeats":    js.FuncOf(func(_ js.Value, args []js.Value) any { return engine.Repeats(textAt(args, 0)) }),
		"run":        js.FuncOf(func(_ js.Value, args []js.Value) any { return engine.Run(textAt(args, 0)) }),
		"convert":    js.FuncOf(func(_ js.Value, args []js.Value) any { return engine.Convert(textAt(args, 0)) }),
		"plan":       js.FuncOf(func(_ js.Value, args []js.Value) any { return engine.Plan(textAt(args, 0), textAt(args, 1)) }),
		"advice":     js.FuncOf(func(_ js.Value, args []js.Value) any { return advice.Advice(textAt(args, 0)) }),
		"trend":      js.FuncOf(func(_ js.Value, args []js.Value) any { return engine.Trend(textAt(args, 0)) }),
	}
	js.Global().Set("doorsillEngine", functions)
	select {}
}

// bytesAt copies a Uint8Array argument; anything else is empty.
func bytesAt(uint8Array js.Value, args []js.Value, i int) []byte {
	if i >= len(args) || !args[i].InstanceOf(uint8Array) {
		return nil
	}
	b := make([]byte, args[i].Length())
	js.CopyBytesToGo(b, args[i])
	return b
}

func textAt(args []js.Value, i int) string {
	if i >= len(args) || args[i].Type() != js.TypeString {
		return ""
	}
	return args[i].String()
}

// numberAt returns a number argument, and NaN for anything else, which is
// refused like any value that is not a number.
func numberAt(args []js.Value, i int) float64 {
	if i >= len(args) || args[i].Type() != js.TypeNumber {
		return math.NaN()
	}
	return args[i].Float()
}
