package people

import (
	"crypto/hmac"
	"crypto/sha256"
	"encoding/base64"

	"undersod/internal/archive"
)

// tokenBytes is how many random bytes a token has.
const tokenBytes = 32

var tokenLetters = base64.RawURLEncoding

// newToken makes a token.
func (d *Desk) newToken() string {
	var b [tokenBytes]byte
	d.random(b[:])
	return tokenLetters.EncodeToString(b[:])
}

// tokenFor makes the token of one thing that a request with a key made. The
// same request again gets it again, although it is kept nowhere: it follows
// from a secret of this process.
func (d *Desk) tokenFor(request string, id archive.ID) string {
	mac := hmac.New(sha256.New, d.secret)
	mac.Write([]byte("token " + string(id) + " " + request))
	return tokenLetters.EncodeToString(mac.Sum(nil))
}

// tokenHash returns what is kept of a token, if it has the form of one.
func tokenHash(token string) (archive.Hash, bool) {
	b, err := tokenLetters.DecodeString(token)
	if err != nil || len(b) != tokenBytes || tokenLetters.EncodeToString(b) != token {
		return "", false
	}
	return archive.HashOf([]byte(token)), true
}
