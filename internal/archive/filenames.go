package archive

import (
	"fmt"
	"io/fs"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longestPath is how many bytes a path of files has at most that every system
// can keep, with room for the folder that it is unpacked in.
const longestPath = 400

// SafePath tells whether a path of files stays within the folder that it is
// written in, and is the same on every system: no step upward, no root, no
// drive, no backslash, nothing that is not text, no part that Windows would
// change or keep for itself.
func SafePath(name string) bool {
	if name == "." || len(name) > longestPath || !fs.ValidPath(name) || !utf8.ValidString(name) ||
		strings.ContainsAny(name, "\\:*?\"<>|") || strings.ContainsFunc(name, unicode.IsControl) {
		return false
	}
	for _, part := range strings.Split(name, "/") {
		if strings.HasSuffix(part, ".") || strings.HasSuffix(part, " ") || device(part) {
			return false
		}
	}
	return true
}

// device tells whether Windows takes a name for a device: con, nul, com1.
func device(part string) bool {
	base, _, _ := strings.Cut(strings.ToLower(part), ".")
	switch base {
	case "con", "prn", "aux", "nul":
		return true
	}
	return len(base) == 4 && (strings.HasPrefix(base, "com") || strings.HasPrefix(base, "lpt")) && base[3] >= '0' && base[3] <= '9'
}

// FoldedPath is a path as systems see it that do not tell capitals apart.
func FoldedPath(name string) string { return strings.ToLower(name) }

// photoName refuses a name that could lead out of a folder when the photo is
// written there, that some system cannot keep, or that the job file has beside it.
func photoName(name string) error {
	switch {
	case len(name) > LongestName || name == "." || !fs.ValidPath(name):
		return fmt.Errorf("the name of a photo %.60q: a path within the job's folder of at most %d bytes is expected, such as photos/box.jpg: %w", name, LongestName, ErrRefused)
	case !SafePath(name):
		return fmt.Errorf("the name of a photo %.60q cannot be kept as a file on every computer, so that the site could not be carried out; "+
			`rename the photo, in the job file too: without \ : * ? " < > |, no part that ends in a dot or a blank, none called con, prn, aux, nul, com1 or lpt1, such as photos/box.jpg: %w`, name, ErrRefused)
	case within(name, "job.yaml") || within(name, "job.json"):
		return fmt.Errorf("the name of a photo %.60q is that of the job file; give the photo another, such as photos/box.jpg: %w", name, ErrRefused)
	}
	return nil
}

// within tells whether a path is another, or leads through it, where capitals
// are not told apart.
func within(name, other string) bool {
	name, other = FoldedPath(name), FoldedPath(other)
	return name == other || strings.HasPrefix(name, other+"/")
}

// besides refuses a name that some computer could not keep beside those of the
// other photos of a visit.
func besides(v Visit, name string) error {
	for _, p := range v.Photos {
		if p.Name != name && (within(name, p.Name) || within(p.Name, name)) {
			return fmt.Errorf("the name of a photo %.60q: a computer that does not tell capitals apart could not keep it beside %.60q, which is kept with this visit; give it another name, or remove that one first: %w", name, p.Name, ErrRefused)
		}
	}
	return nil
}
