// Package docs holds the documents that the program prints itself.
package docs

import _ "embed"

// Licences lists the licence of this program and of everything linked into it.
//
//go:embed licences.txt
var Licences string
