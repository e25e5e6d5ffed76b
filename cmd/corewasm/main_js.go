//go:build js && wasm

// Command corewasm is the core for the browser: it registers one function,
// undersodCheck(text), which takes the text of a job file and returns the JSON
// that check --json prints, or {"error": "..."} in words.
package main

import (
	"encoding/json"
	"strings"
	"syscall/js"

	"undersod/core/adjust"
	"undersod/internal/checkfile"
	"undersod/internal/jobfile"
)

func main() {
	js.Global().Set("undersodCheck", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) != 1 || args[0].Type() != js.TypeString {
			return failure("undersodCheck takes the text of one job file")
		}
		return check(args[0].String())
	}))
	select {} // stay, so that the function can be called
}

// check answers one call.
func check(text string) string {
	result, err := jobfile.Read("job", strings.NewReader(text))
	if err != nil {
		return failure(err.Error())
	}
	plan := adjust.Solve(&result.Job, adjust.Settings{})
	checkfile.CountMistakes(plan, result.Mistakes())
	answer, err := json.Marshal(checkfile.Make("job", &result.Job, plan, result.Problems))
	if err != nil {
		return failure("the plan cannot be written as JSON")
	}
	return string(answer)
}

// failure is an error as JSON.
func failure(words string) string {
	answer, _ := json.Marshal(map[string]string{"error": words})
	return string(answer)
}
