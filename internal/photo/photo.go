// Package photo reads pictures that a job names and makes them fit for a
// report: bounded, turned upright, resized, and without the data that a camera
// hides in them.
package photo

import "undersod/core/sheet"

// Prepared is one picture made ready.
type Prepared struct {
	File     string
	Picture  *sheet.Picture
	Taken    string // date and time as the camera wrote them, empty when it did not
	Location string // latitude and longitude, only when they were asked for and are there
}
