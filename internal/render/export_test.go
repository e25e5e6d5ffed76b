package render

import "undersod/core/sheet"

// Spelled lets the tests see a text as every format draws it.
func Spelled(text string, w sheet.Weight) string { return faceOf(w).spelled(text) }
