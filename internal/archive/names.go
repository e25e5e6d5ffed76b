package archive

import (
	"crypto/sha256"
	"encoding/base32"
	"encoding/hex"
)

// HashOf returns the name of a content.
func HashOf(content []byte) Hash {
	sum := sha256.Sum256(content)
	return Hash(hex.EncodeToString(sum[:]))
}

// Valid reports whether a hash is written as one.
func (h Hash) Valid() bool { return made(string(h), 64, '0', '9', 'a', 'f') }

// Valid reports whether an ID is written as one.
func (id ID) Valid() bool { return made(string(id), idLength, '0', '9', 'a', 'z') }

const idLength = 26

// made reports whether a text has a length and only the signs of two ranges.
func made(text string, length int, from, to, orFrom, orTo byte) bool {
	if len(text) != length {
		return false
	}
	for i := range len(text) {
		if c := text[i]; (c < from || c > to) && (c < orFrom || c > orTo) {
			return false
		}
	}
	return true
}

// letters writes five bits as a letter or digit, as RFC 4648 does in lower case.
var letters = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// NewID makes an ID of 128 bits from a source of random bytes.
func NewID(random func([]byte)) ID {
	var b [16]byte
	random(b[:])
	return ID(letters.EncodeToString(b[:]))
}
