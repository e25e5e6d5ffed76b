package people

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"undersod/internal/archive"
)

// reply is what is remembered of a request that was carried out. Request tells
// one request from another; a password is never part of it, since it would be
// easier to guess from there than from its hash.
type reply[T any] struct {
	Request archive.Hash
	Answer  T
}

// request tells what is asked and with what.
func request(parts ...any) archive.Hash {
	var text strings.Builder
	for _, p := range parts {
		part := fmt.Sprint(p)
		fmt.Fprintf(&text, "%d:%s,", len(part), part)
	}
	return archive.HashOf([]byte("people:" + text.String()))
}

// name returns the name under which an answer is remembered: a key belongs to
// the account that used it, here and in the records alike. It is empty without
// a key.
func name(w archive.Write) (string, error) {
	switch {
	case w.Key == "":
		return "", nil
	case len(w.Key) > archive.LongestKey || !utf8.ValidString(w.Key) || strings.ContainsFunc(w.Key, unicode.IsControl):
		return "", refused("the key of the request: at most %d bytes of plain text are expected", archive.LongestKey)
	}
	return string(w.By.Account) + " " + w.Key, nil
}

// before returns the answer that a request was given before, and whether it
// was. ErrKeyUsed where its key was for another request.
func before[T any](r archive.Reader, w archive.Write, asked archive.Hash) (answer T, there bool, err error) {
	key, err := name(w)
	if err != nil || key == "" {
		return answer, false, err
	}
	text, err := r.Answered(key)
	if errors.Is(err, archive.ErrNotFound) {
		return answer, false, nil
	}
	if err != nil {
		return answer, false, err
	}
	var kept reply[T]
	switch err := json.Unmarshal(text, &kept); {
	case err == nil && kept.Request == asked:
		return kept.Answer, true, nil
	case json.Valid(text): // another request, with an answer of another form perhaps
		return answer, false, archive.ErrKeyUsed
	}
	return answer, false, fmt.Errorf("the answer to the key %q: %w", w.Key, archive.ErrDamaged)
}

// once carries out a request in one update and remembers its answer, or returns
// the answer that is remembered. Nobody without the right comes so far.
func once[T any](ctx context.Context, d *Desk, w archive.Write, to right, asked archive.Hash, f func(archive.Writer) (T, error)) (T, error) {
	var answer, none T
	now := d.clock()
	err := d.store.Update(ctx, func(tx archive.Writer) error {
		if err := may(tx, w.By, to); err != nil {
			return err
		}
		var there bool
		var err error
		if answer, there, err = before[T](tx, w, asked); there || err != nil {
			return err
		}
		if answer, err = f(tx); err != nil || w.Key == "" {
			return err
		}
		return remember(tx, w, now, reply[T]{asked, answer})
	})
	if err != nil {
		return none, err
	}
	return answer, nil
}

func remember[T any](tx archive.Writer, w archive.Write, now time.Time, r reply[T]) error {
	key, err := name(w)
	if err != nil {
		return err
	}
	text, err := json.Marshal(r)
	if err != nil {
		return err
	}
	return tx.PutAnswer(key, now, text)
}

// peek is what is looked at before anything costly is done for a request:
// whether the actor may ask it, and whether it was answered before.
func peek[T any](r archive.Reader, w archive.Write, to right, asked archive.Hash) (answer T, there bool, err error) {
	if err := may(r, w.By, to); err != nil {
		return answer, false, err
	}
	return before[T](r, w, asked)
}
