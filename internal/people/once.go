package people

import (
	"context"

	"undersod/internal/archive"
)

// request tells what is asked of people and with what.
func request(parts ...any) archive.Hash {
	return archive.Request(append([]any{"people"}, parts...)...)
}

// once carries out a request once, for whoever has the right.
func once[T any](ctx context.Context, d *Desk, w archive.Write, to right, asked archive.Hash, f func(archive.Writer) (T, error)) (T, error) {
	return archive.Once(ctx, d.store, d.clock(), w, asked, func(r archive.Reader) error { return may(r, w.By, to) }, f)
}

// peek is what is looked at before anything costly is done for a request:
// whether the actor may ask it, and whether it was answered before.
func peek[T any](r archive.Reader, w archive.Write, to right, asked archive.Hash) (answer T, there bool, err error) {
	if err := may(r, w.By, to); err != nil {
		return answer, false, err
	}
	return archive.Before[T](r, w, asked)
}
