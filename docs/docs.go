// Package docs holds the documents that the program prints itself.
package docs

import _ "embed"

// Licences lists the licence of this program and of everything linked into it.
//
//go:embed licences.txt
var Licences string

// OpenAPI describes the interface for programs under /api/v1, as OpenAPI 3.1.
//
//go:embed openapi.json
var OpenAPI []byte
