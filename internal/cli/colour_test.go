package cli_test

import (
	"bytes"
	"strings"
	"testing"

	"undersod/internal/cli"
)

// TestColoursAreOursAlone strips the program's own colours and looks for what
// the job file would add.
func TestColoursAreOursAlone(t *testing.T) {
	const job = `undersod: 1
site: {name: "Yard\e[5m\u202e"}
buildings:
  House: {corners: [A, B, C, D], size: 44' x 28'}
parts: {Tank lid: lid, "Lid \e[31m": lid}
ties:
  Tank lid: {C: 22' 9 3/4", D: {read: 34.99 ft, set aside: "\e[1mno"}}
`
	for _, colour := range []bool{true, false} {
		var out, errs bytes.Buffer
		p := &cli.Program{In: strings.NewReader(job), Out: &out, Err: &errs, Colour: colour}
		if status := p.Run([]string{"check", "--all", "-"}); status != cli.ExitFound {
			t.Fatalf("status %d: %s", status, errs.String())
		}
		text := out.String()
		if has := strings.Contains(text, "\x1b[1m") && strings.Contains(text, "\x1b[31m"); has != colour {
			t.Errorf("colour %v, shown %v", colour, has)
		}
		text = strings.NewReplacer("\x1b[31m", "", "\x1b[1m", "", "\x1b[0m", "").Replace(text)
		if strings.ContainsAny(text, "\x1b\u202e") {
			t.Errorf("the job steers the terminal: %q", text)
		}
	}
}
