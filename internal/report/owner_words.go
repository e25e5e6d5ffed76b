package report

import "strings"

// small begins a clause with a small letter, unless it begins with a name of the
// job or a word in capitals.
func small(s string) string {
	word, _, _ := strings.Cut(s, " ")
	if strings.HasSuffix(word, ":") || word != strings.ToUpper(word[:min(1, len(word))])+strings.ToLower(word[min(1, len(word)):]) {
		return s
	}
	return strings.ToLower(word) + s[len(word):]
}

// unasked leaves out of a sentence what asks to enter something into the job
// file, which the owner does not have.
func unasked(words string) string {
	words = tidy(words)
	words = strings.ReplaceAll(words, "; the table lists all", "")
	for _, cut := range []string{"; enter ", ": enter ", ", enter ", ". Enter ", ": add "} {
		for {
			i := strings.Index(words, cut)
			if i < 0 || cut == ": add " && !strings.Contains(words[i:], " under ") { // a place of the file
				break
			}
			rest := ""
			if end := strings.Index(words[i+len(cut):], ". "); end >= 0 {
				rest = words[i+len(cut)+end:]
			}
			words = words[:i] + rest
		}
	}
	return sentence(words)
}

// plain leaves out of an answer the method and the source, which the packet for
// the authority has in full.
func plain(words string) string {
	words = tidy(words)
	for _, cut := range []string{" Method: ", " Source: "} {
		words, _, _ = strings.Cut(words, cut)
	}
	return unasked(words)
}
