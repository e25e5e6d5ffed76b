package rules

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
)

// deepest bounds how deep a pack nests; the deepest that means anything is 5.
const deepest = 16

// node is one value of a JSON text, with where it stands.
type node struct {
	at      int    // byte offset
	kind    string // "an object", "a list", "a text", "a number", "true or false", "null"
	text    string // of a text or a number
	yes     bool   // of true or false
	members []member
	items   []*node
}

// member is one key of an object with its value.
type member struct {
	key   string
	at    int
	value *node
}

// The kinds of node, as errors name them.
const (
	isObject = "an object"
	isList   = "a list"
	isText   = "a text"
	isNumber = "a number"
	isBool   = "true or false"
	isNull   = "null"
)

// syntax is what no JSON reader can get over.
type syntax struct {
	at    int
	words string
}

func (s *syntax) Error() string { return s.words }

// tree reads a JSON text as a tree that keeps positions, the order of keys and
// keys that stand twice.
func tree(data []byte) (*node, error) {
	var whole json.RawMessage
	var wrong *json.SyntaxError
	switch err := json.Unmarshal(data, &whole); {
	case len(bytes.TrimSpace(data)) == 0:
		return nil, &syntax{0, "the text is empty"}
	case errors.As(err, &wrong):
		return nil, &syntax{int(wrong.Offset) - 1, "the text is not JSON: " + wrong.Error()}
	case err != nil:
		return nil, &syntax{0, "the text is not JSON: " + err.Error()}
	}
	t := &treeReader{data: data, dec: json.NewDecoder(bytes.NewReader(data))}
	t.dec.UseNumber()
	return t.value(0)
}

type treeReader struct {
	data []byte
	dec  *json.Decoder
}

// next returns where the next token starts.
func (t *treeReader) next() int {
	at := int(t.dec.InputOffset())
	for at < len(t.data) && strings.IndexByte(" \t\r\n,:", t.data[at]) >= 0 {
		at++
	}
	return at
}

func (t *treeReader) token() (json.Token, int, error) {
	at := t.next()
	tok, err := t.dec.Token()
	if err != nil { // the whole text was found to be JSON before
		return nil, at, &syntax{at, "the text is not JSON: " + err.Error()}
	}
	return tok, at, nil
}

func (t *treeReader) value(depth int) (*node, error) {
	tok, at, err := t.token()
	if err != nil {
		return nil, err
	}
	n := &node{at: at}
	switch v := tok.(type) {
	case string:
		n.kind, n.text = isText, v
	case json.Number:
		n.kind, n.text = isNumber, v.String()
	case bool:
		n.kind, n.yes = isBool, v
	case nil:
		n.kind = isNull
	case json.Delim:
		switch {
		case depth >= deepest:
			return nil, &syntax{at, fmt.Sprintf("the text nests deeper than %d levels", deepest)}
		case v == '{':
			return n, t.object(n, depth)
		}
		return n, t.list(n, depth)
	}
	return n, nil
}

func (t *treeReader) object(n *node, depth int) error {
	n.kind = isObject
	for t.dec.More() {
		tok, at, err := t.token()
		if err != nil {
			return err
		}
		key, ok := tok.(string)
		if !ok {
			return &syntax{at, "a key is missing"}
		}
		value, err := t.value(depth + 1)
		if err != nil {
			return err
		}
		n.members = append(n.members, member{key, at, value})
	}
	_, _, err := t.token()
	return err
}

func (t *treeReader) list(n *node, depth int) error {
	n.kind = isList
	for t.dec.More() {
		item, err := t.value(depth + 1)
		if err != nil {
			return err
		}
		n.items = append(n.items, item)
	}
	_, _, err := t.token()
	return err
}
