package archive

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// Request tells one request from another: what is asked and with what. A
// password is never part of it: it would be easier to guess from there than from
// its hash.
func Request(parts ...any) Hash {
	text := ""
	for _, p := range parts {
		part := fmt.Sprint(p)
		text += fmt.Sprintf("%d:%s,", len(part), part)
	}
	return HashOf([]byte(text))
}

// reply is what is remembered of a request that was carried out.
type reply[T any] struct {
	Request Hash
	Answer  T
}

// name returns the name under which an answer is remembered: a key belongs to
// the account that used it. It is empty without a key.
func (w Write) name() (string, error) {
	switch {
	case w.Key == "":
		return "", nil
	case len(w.Key) > LongestKey || !plainText(w.Key):
		return "", fmt.Errorf("the key of the request: at most %d bytes of plain text are expected: %w", LongestKey, ErrRefused)
	}
	return string(w.By.Account) + " " + w.Key, nil
}

// Before returns the answer that a request was given before, and whether it
// was. ErrKeyUsed where its key was for another request.
func Before[T any](r Reader, w Write, asked Hash) (answer T, there bool, err error) {
	name, err := w.name()
	if err != nil || name == "" {
		return answer, false, err
	}
	text, err := r.Answered(name)
	if errors.Is(err, ErrNotFound) {
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
		return answer, false, ErrKeyUsed
	}
	return answer, false, fmt.Errorf("the answer to the key %q: %w", w.Key, ErrDamaged)
}

// peek looks for the answer of an earlier request before anything costly is
// done for this one.
func peek[T any](ctx context.Context, s Store, w Write, asked Hash) (answer T, there bool, err error) {
	err = s.View(ctx, func(r Reader) error {
		answer, there, err = Before[T](r, w, asked)
		return err
	})
	return answer, there, err
}

// Once carries out a request in one update and remembers its answer, or returns
// the answer that is remembered. Whom may refuses comes to neither; nil lets
// everybody. An answer is kept as JSON and must hold no secret.
func Once[T any](ctx context.Context, s Store, now time.Time, w Write, asked Hash, may func(Reader) error, f func(Writer) (T, error)) (T, error) {
	var answer, none T
	err := s.Update(ctx, func(tx Writer) error {
		if may != nil {
			if err := may(tx); err != nil {
				return err
			}
		}
		name, err := w.name()
		if err != nil {
			return err
		}
		var there bool
		if answer, there, err = Before[T](tx, w, asked); there || err != nil {
			return err
		}
		if answer, err = f(tx); err != nil || name == "" {
			return err
		}
		text, err := json.Marshal(reply[T]{asked, answer})
		if err != nil {
			return err
		}
		return tx.PutAnswer(name, now, text)
	})
	if err != nil {
		return none, err
	}
	return answer, nil
}
