package tree

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"undersod/internal/jobfile/tell"

	"go.yaml.in/yaml/v3"
)

// parseYAML reads the first document of src. extra is the line of a second
// document, 0 when there is none.
func parseYAML(file string, src []byte) (root *Node, extra int, err error) {
	// The YAML reader signals its own faults by panicking; a fault of it
	// must come to the user as words.
	defer func() {
		if p := recover(); p != nil {
			root, err = nil, Refusal(file, 0, 0, "", "YAML or JSON", "The file confuses the YAML reader: look for unusual marks (&, *, !, <<) and take them out.")
		}
	}()
	dec := yaml.NewDecoder(bytes.NewReader(src))
	var doc yaml.Node
	if err := dec.Decode(&doc); err != nil {
		if errors.Is(err, io.EOF) {
			return nil, 0, Refusal(file, 1, 1, "an empty file", "a job", "Begin with the line \"undersod: 1\".")
		}
		return nil, 0, yamlWords(file, src, err)
	}
	b := yamlBuilder{file: file}
	root, err = b.build(&doc, 0)
	if err != nil {
		return nil, 0, err
	}
	var second yaml.Node
	if dec.Decode(&second) == nil {
		extra = max(second.Line, 1)
	}
	return root, extra, nil
}

type yamlBuilder struct {
	file  string
	count int
}

func (b *yamlBuilder) build(y *yaml.Node, depth int) (*Node, error) {
	b.count++
	if b.count > maxNodes {
		return nil, tooMany(b.file, y.Line, y.Column)
	}
	if depth > maxDepth {
		return nil, tooDeep(b.file, y.Line, y.Column)
	}
	n := &Node{Line: y.Line, Column: y.Column}
	switch y.Kind {
	case yaml.DocumentNode:
		if len(y.Content) == 0 {
			n.Null = true
			return n, nil
		}
		return b.build(y.Content[0], depth)
	case yaml.AliasNode:
		// Every use of an alias counts, so a chain of them runs into the limit
		// of values before it fills the memory.
		return b.build(y.Alias, depth+1)
	case yaml.SequenceNode:
		n.Form = List
	case yaml.MappingNode:
		n.Form = Dict
	default:
		n.Text = y.Value
		n.Quoted = y.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0
		n.Block = y.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0
		n.Null = y.ShortTag() == "!!null"
		return n, nil
	}
	return n, b.fill(n, y.Content, depth)
}

func (b *yamlBuilder) fill(n *Node, content []*yaml.Node, depth int) error {
	for i, c := range content {
		child, err := b.build(c, depth+1)
		if err != nil {
			return err
		}
		if n.Form == Dict && i%2 == 0 {
			n.Keys = append(n.Keys, child)
		} else {
			n.Items = append(n.Items, child)
		}
	}
	return nil
}

// countedFromZero are what the YAML reader says when it gives the line before
// the one it means.
var countedFromZero = regexp.MustCompile(`did not find expected (key|',' or|'-' indicator|<document start>|node content)`)

var yamlLine = regexp.MustCompile(`line (\d+)`)

// yamlAdvice turns what the YAML reader says into what to do. The first
// fragment found in its message decides.
var yamlAdvice = []struct{ says, expected, advice string }{
	{"found character that cannot start any token", "blanks for indenting", "YAML is indented with blanks, never with tabs; a text that starts with @, ` or % needs quotes."},
	{"found a tab character", "blanks for indenting", "YAML is indented with blanks, never with tabs."},
	{"mapping values are not allowed", "one \"key: value\" on a line", "Put a text that has a colon and a blank in quotes, and look at the indent of this line and the one before."},
	{"did not find expected ',' or ']'", "a comma or ]", "A list opened with [ is not closed, or a text inside it needs quotes."},
	{"did not find expected ',' or '}'", "a comma or }", "A group opened with { is not closed, or a text inside it needs quotes."},
	{"did not find expected key", "a key at the same indent as its neighbours", "From this line on, look for an indent that fits no line above, and for a text that starts with a quote mark and goes on after the closing one: put it in quotes wholly, or leave the quotes out."},
	{"could not find expected ':'", "a colon after the key", "Write \"key: value\", with a blank after the colon."},
	{"found unexpected end of stream", "a closing quote mark", "A text opened with a quote mark is not closed."},
	{"did not find expected '-' indicator", "the next \"- \" of the list", "Look at the indent of this line."},
	{"block sequence entries are not allowed", "a list on lines of its own", "Start the list on the line after its key."},
	{"unknown anchor", "a name defined before with &", "A text that starts with * needs quotes."},
	{"control characters are not allowed", "plain text", "The file holds characters that cannot be seen; write the line anew."},
	{"invalid Unicode", "text in UTF-8", "Save the file as UTF-8."},
	{"UTF-8", "text in UTF-8", "Save the file as UTF-8."},
}

func yamlWords(file string, src []byte, err error) error {
	line, msg := 0, err.Error()
	if m := yamlLine.FindStringSubmatch(msg); m != nil {
		line, _ = strconv.Atoi(m[1])
	}
	if countedFromZero.MatchString(msg) {
		line++
	}
	line = min(line, bytes.Count(src, []byte("\n"))+1)
	text := tell.SourceLine(src, line)
	column := 0
	if line > 0 {
		column = utf8.RuneCountInString(text) - utf8.RuneCountInString(strings.TrimLeft(text, " \t")) + 1
	}
	found := tell.Clip(strings.TrimSpace(text))
	for _, a := range yamlAdvice {
		if strings.Contains(msg, a.says) {
			return Refusal(file, line, column, found, a.expected, a.advice)
		}
	}
	says := strings.TrimPrefix(msg, "yaml: ")
	return Refusal(file, line, column, found, "YAML or JSON", fmt.Sprintf("The YAML reader says: %s.", says))
}
