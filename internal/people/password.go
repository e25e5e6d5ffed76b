package people

import (
	"context"
	"crypto/subtle"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// How long a password is, in characters after normalization (NFKC).
const (
	LeastPassword = 12
	MostPassword  = 200
)

// normalPassword brings a password to one form, however a keyboard composed it
// (NFKC, as NIST SP 800-63B, "Digital Identity Guidelines", 2017, section
// 5.1.1.2, advises), and refuses what is none.
func normalPassword(password string) (string, error) {
	if len(password) > 16*MostPassword {
		return "", refused("the password is too long: at most %d characters are taken", MostPassword)
	}
	if !utf8.ValidString(password) || strings.ContainsFunc(password, unicode.IsControl) {
		return "", refused("the password has characters that cannot be typed; use letters, digits, signs and spaces")
	}
	normal := norm.NFKC.String(password)
	switch n := utf8.RuneCountInString(normal); {
	case n < LeastPassword:
		return "", refused("the password has %s, at least %d are expected; four or five words that do not belong together are easy to keep in mind",
			some(n, "character", "characters"), LeastPassword)
	case n > MostPassword:
		return "", refused("the password has %d characters, at most %d are taken", n, MostPassword)
	}
	return normal, nil
}

// newPassword checks a password that an account is to have.
func newPassword(login, password string) (string, error) {
	normal, err := normalPassword(password)
	if err != nil {
		return "", err
	}
	before, _, _ := strings.Cut(login, "@")
	if said := tidy(normal); said == login || said == before {
		return "", refused("the password is the login; choose one that nobody can guess from it")
	}
	return normal, nil
}

// hash hashes a password that was normalized.
func (d *Desk) hash(ctx context.Context, normal string) (string, error) {
	h := hashed{cost: d.cost, salt: make([]byte, saltBytes)}
	d.random(h.salt)
	sum, err := d.sum(ctx, normal, h, sumBytes)
	if err != nil {
		return "", err
	}
	h.sum = sum
	return h.String(), nil
}

// right reports whether a password as it was typed is the one of a hash. It
// takes the same work for every password, one that cannot be right included.
func (d *Desk) right(ctx context.Context, typed string, h hashed) (bool, error) {
	normal, wrong := normalPassword(typed)
	sum, err := d.sum(ctx, normal, h, len(h.sum))
	if err != nil {
		return false, err
	}
	return subtle.ConstantTimeCompare(sum, h.sum) == 1 && wrong == nil, nil
}

// sum runs argon2id when a slot is free.
func (d *Desk) sum(ctx context.Context, normal string, h hashed, length int) ([]byte, error) {
	if err := d.slots.take(ctx); err != nil {
		return nil, err
	}
	defer d.slots.give()
	return d.derive([]byte(normal), h.salt, h.cost, uint32(length)), nil
}
