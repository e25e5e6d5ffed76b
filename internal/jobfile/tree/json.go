package tree

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"unicode/utf8"

	"undersod/internal/jobfile/tell"
)

// looksLikeJSON tells JSON from YAML by its content: JSON jobs begin with a
// brace, and what follows it is a quoted key or the closing brace. YAML's own
// braces with quoted keys are read as YAML when JSON fails.
func looksLikeJSON(src []byte) bool {
	s := bytes.TrimLeft(src, " \t\r\n")
	if len(s) == 0 || s[0] != '{' {
		return false
	}
	s = bytes.TrimLeft(s[1:], " \t\r\n")
	return len(s) > 0 && (s[0] == '"' || s[0] == '}')
}

// jsonBuilder makes nodes of JSON tokens. encoding/json says where each token
// ends; where it starts is found by skipping what may stand between tokens.
type jsonBuilder struct {
	file  string
	src   []byte
	dec   *json.Decoder
	count int

	// Where the last place asked for lies. Tokens come in order, so that
	// counting on from there keeps a file of one long line fast.
	offset, line, column int
}

func parseJSON(file string, src []byte) (*Node, error) {
	b := &jsonBuilder{file: file, src: src, dec: json.NewDecoder(bytes.NewReader(src)), line: 1, column: 1}
	b.dec.UseNumber()
	n, err := b.value(0)
	if err != nil {
		return nil, err
	}
	if at := b.next(); at < len(src) {
		line, column := b.place(at)
		return nil, Refusal(file, line, column, tell.Clip(string(src[at:])), "the end of the file after the closing brace", "")
	}
	return n, nil
}

// next is the offset where the next token starts.
func (b *jsonBuilder) next() int {
	i := int(b.dec.InputOffset())
	for i < len(b.src) && bytes.IndexByte([]byte(" \t\r\n,:"), b.src[i]) >= 0 {
		i++
	}
	return i
}

// place counts lines and characters up to offset.
func (b *jsonBuilder) place(offset int) (line, column int) {
	if offset < b.offset {
		b.offset, b.line, b.column = 0, 1, 1
	}
	for b.offset < offset {
		r, size := utf8.DecodeRune(b.src[b.offset:])
		b.offset += size
		b.column++
		if r == '\n' {
			b.line, b.column = b.line+1, 1
		}
	}
	return b.line, b.column
}

func (b *jsonBuilder) value(depth int) (*Node, error) {
	at := b.next()
	line, column := b.place(at)
	if b.count++; b.count > maxNodes {
		return nil, tooMany(b.file, line, column)
	}
	if depth > maxDepth {
		return nil, tooDeep(b.file, line, column)
	}
	tok, err := b.dec.Token()
	if err != nil {
		return nil, b.words(err)
	}
	n := &Node{Line: line, Column: column}
	switch t := tok.(type) {
	case json.Delim:
		return n, b.group(n, t, depth)
	case string:
		n.Text, n.Quoted = t, true
	case json.Number:
		n.Text = t.String()
	case bool:
		n.Text = "false"
		if t {
			n.Text = "true"
		}
	default:
		n.Null = true
	}
	return n, nil
}

func (b *jsonBuilder) group(n *Node, open json.Delim, depth int) error {
	n.Form = List
	if open == '{' {
		n.Form = Dict
	}
	for b.dec.More() {
		if n.Form == Dict {
			key, err := b.value(depth + 1)
			if err != nil {
				return err
			}
			n.Keys = append(n.Keys, key)
		}
		item, err := b.value(depth + 1)
		if err != nil {
			return err
		}
		n.Items = append(n.Items, item)
	}
	if _, err := b.dec.Token(); err != nil {
		return b.words(err)
	}
	return nil
}

func (b *jsonBuilder) words(err error) error {
	at := min(int(b.dec.InputOffset()), len(b.src))
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		at = max(0, min(int(syntax.Offset)-1, len(b.src)))
	}
	for at < len(b.src) && strings.IndexByte(" \t\r\n", b.src[at]) >= 0 {
		at++
	}
	expected, advice := "JSON", "A comma may be missing or one too many, or a key may lack its quote marks."
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) || at >= len(b.src) {
		at = len(b.src)
		expected, advice = "a closing brace, bracket or quote mark", "The file ends in the middle; in JSON an inch mark inside a text is written \\\"."
	}
	line, column := b.place(at)
	return Refusal(b.file, line, column, tell.Clip(strings.TrimSpace(tell.SourceLine(b.src, line))), expected, advice)
}
