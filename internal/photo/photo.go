// Package photo reads pictures that a job names and makes them fit for a
// report: bounded, turned upright, resized, and without the data that a camera
// hides in them.
//
// A picture is judged by its content, never by the ending of its name. JPEG,
// PNG, GIF (its first picture), WebP, TIFF (its first page) and BMP are read.
// What is made is always a baseline JPEG written anew from the dots, so that
// place, date, name of the camera, thumbnail and colour profile of the original
// cannot come along. Colours are taken as sRGB. Same file and options, same
// bytes, on every machine.
package photo

import (
	"fmt"
	"io/fs"

	"undersod/core/sheet"
)

// Prepared is one picture made ready.
type Prepared struct {
	File     string
	Picture  *sheet.Picture
	Taken    string // date and time as the camera wrote them, empty when it did not
	Location string // latitude and longitude, only when they were asked for and are there
}

// Options is how pictures are made ready. A zero or negative number stands for
// the default named beside it.
type Options struct {
	LongSide     int  // at most so many dots along the longer side: 1600
	Quality      int  // of the JPEG, 1 to 100: 80
	KeepLocation bool // tell where it was taken, beside the picture and never in it
	MaxBytes     int  // largest file that is read: 40,000,000
	MaxDots      int  // largest picture that is read, in dots: 64,000,000
}

// Defaults of Options.
const (
	defaultLongSide = 1600
	defaultQuality  = 80
	defaultMaxBytes = 40_000_000
	defaultMaxDots  = 64_000_000
)

// longestSide keeps what is made within what a JPEG can hold.
const longestSide = 65_000

// filled returns the options with their defaults set.
func (o Options) filled() Options {
	set := func(v *int, otherwise, most int) {
		if *v <= 0 {
			*v = otherwise
		}
		*v = min(*v, most)
	}
	set(&o.LongSide, defaultLongSide, longestSide)
	set(&o.Quality, defaultQuality, 100)
	set(&o.MaxBytes, defaultMaxBytes, 1<<30)
	set(&o.MaxDots, defaultMaxDots, 1<<30)
	return o
}

// Prepare reads the picture of the given name and makes it ready. The name is
// a path of fsys, as photos/box.jpg. The error says in words what is wrong with
// the file and what to do: it is missing, empty, too large, no picture, of a
// kind that is not read, damaged or cut off. A picture that is cut off is
// refused whole, for its lower part would show what was never there. fsys
// decides what may be read; give it the root of the job's folder.
func Prepare(fsys fs.FS, name string, o Options) (Prepared, error) {
	p, err := prepare(fsys, name, o.filled(), unlimited{})
	if err != nil {
		return Prepared{}, fmt.Errorf("photo %q: %w", name, err)
	}
	return p, nil
}

// prepare does the work of Prepare, with errors that do not name the file. A
// reader that panics counts as a damaged file: the readers are not ours.
func prepare(fsys fs.FS, name string, o Options, memory limit) (p Prepared, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			p, err = Prepared{}, fmt.Errorf("its reader failed on it (%v); it is damaged: %s", fault, saveAnew)
		}
	}()
	data, err := readFile(fsys, name, o.MaxBytes)
	if err != nil {
		return Prepared{}, err
	}
	kind, err := kindOf(data)
	if err != nil {
		return Prepared{}, err
	}
	bytes, err := kind.memory(data, o.MaxDots)
	if err != nil {
		return Prepared{}, err
	}
	about := readExif(kind.exif(data))
	memory.take(bytes)
	defer memory.give(bytes)
	picture, err := remake(kind, data, about.orientation, o)
	if err != nil {
		return Prepared{}, err
	}
	p = Prepared{File: name, Picture: picture, Taken: about.taken}
	if o.KeepLocation {
		p.Location = about.location
	}
	return p, nil
}
