package tree

import (
	"bytes"
	"unicode/utf8"
)

// Parse makes nodes of the file, as JSON where it looks like JSON. extra is the line of a
// second YAML document, 0 when there is none. The error is a site.Problem.
func Parse(name string, src []byte) (root *Node, extra int, err error) {
	src = bytes.TrimPrefix(src, []byte("\xef\xbb\xbf"))
	if at := NotText(src); at >= 0 {
		line := bytes.Count(src[:at], []byte("\n")) + 1
		column := utf8.RuneCount(src[bytes.LastIndexByte(src[:at], '\n')+1:at]) + 1
		return nil, 0, Refusal(name, line, column, "bytes that are no text", "text in UTF-8",
			"Save the file as UTF-8 text; a picture, a PDF or a word processor's file is no job file.")
	}
	if !looksLikeJSON(src) {
		return parseYAML(name, src)
	}
	root, err = parseJSON(name, src)
	if err == nil {
		return root, 0, nil
	}
	// YAML's own braces may look like JSON at first.
	if root, extra, yamlErr := parseYAML(name, src); yamlErr == nil {
		return root, extra, nil
	}
	return nil, 0, err
}

// NotText finds the first byte that is not UTF-8 text, -1 when there is none.
func NotText(src []byte) int {
	for i := 0; i < len(src); {
		c, size := utf8.DecodeRune(src[i:])
		if c == utf8.RuneError && size == 1 || c == 0 {
			return i
		}
		i += size
	}
	return -1
}
