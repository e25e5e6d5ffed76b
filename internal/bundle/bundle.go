// Package bundle writes one site as one open file, and reads it back: a zip that
// any program opens, with every visit's job file as it was written, its photos
// under the names that the job gives them, and a manifest that tells the rest.
//
//	manifest.json                              schema: docs/schema/bundle.schema.json
//	visits/2026-05-14-ID/job.yaml              byte for byte
//	visits/2026-05-14-ID/photos/box.jpg
//	history/HASH                               job files as they stood before a change
package bundle

import (
	"context"
	"errors"
	"fmt"

	"undersod/internal/archive"
)

// Version is what this program writes, and the only one it reads.
const Version = 1

// What a bundle may hold at most.
const (
	MostBytes         = 4 << 30  // of the zip itself, and of all that is in it
	MostManifestBytes = 64 << 20 // of manifest.json
	MostVisits        = 2000
	MostEntries       = 100_000 // of the zip, folders included
	MostChanges       = 100_000
)

// ErrBundle means that what was read is no bundle that can be taken; the words
// around it say why and what to do.
var ErrBundle = errors.New("this bundle cannot be taken")

// Site is a site with everything that is kept of it. Headings and thumbnails are
// made again and are not in a bundle.
type Site struct {
	archive.Site
	Visits  []archive.Visit
	Changes []archive.Change // oldest first
}

// Contents gives contents by their hash, as archive.Blobs does.
type Contents interface {
	Get(ctx context.Context, h archive.Hash) ([]byte, error)
}

func refusef(format string, args ...any) error {
	return fmt.Errorf(format+": %w", append(args, ErrBundle)...)
}

// folder is where a visit lies.
func folder(v archive.Visit) string {
	date := v.Heading.Date
	if date == "" {
		date = "undated"
	}
	return "visits/" + date + "-" + string(v.ID) + "/"
}

// jobFile is the name of a visit's job file.
func jobFile(v archive.Visit) string { return folder(v) + "job." + v.Format }

func historyFile(h archive.Hash) string { return "history/" + string(h) }
