package cli

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"syscall"

	"undersod/internal/jobfile"
)

// write writes a whole output at once. A reader that has gone away, as head
// does, is no error.
func (p *Program) write(text []byte) error {
	_, err := p.Out.Write(text)
	switch {
	case err == nil || errors.Is(err, syscall.EPIPE):
		return nil
	case errors.Is(err, syscall.ENOSPC):
		return usagef("the output cannot be written: no room is left where it goes")
	}
	return usagef("the output cannot be written: %v", err)
}

// complain prints a message on the error output; a job's own text in it cannot
// steer the terminal.
func (p *Program) complain(format string, args ...any) {
	lines := strings.Split(fmt.Sprintf(format, args...), "\n")
	for i, l := range lines {
		lines[i] = jobfile.Visible(l)
	}
	fmt.Fprintln(p.Err, strings.Join(lines, "\n"))
}

// encode prints a document as JSON. What would steer a terminal is written with
// its number, which means the same to every reader of JSON.
func encode(document any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(document); err != nil {
		return nil, err
	}
	var out strings.Builder
	for _, c := range b.String() {
		if s := string(c); c == '\n' || jobfile.Visible(s) == s {
			out.WriteString(s)
			continue
		}
		fmt.Fprintf(&out, `\u%04x`, c)
	}
	return []byte(out.String()), nil
}
