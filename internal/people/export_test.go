package people

// Tidy is how a login is compared.
var Tidy = tidy

// CountHashings calls f at the beginning of every hashing from now on.
func (d *Desk) CountHashings(f func(Cost)) {
	d.derive = func(password, salt []byte, c Cost, length uint32) []byte {
		f(c)
		return argon2id(password, salt, c, length)
	}
}

// Fits reads a hash in its text form and reports whether it is one, and whether
// it is that of a password.
func Fits(text, password string) (fits, ok bool) {
	h, ok := readHash(text)
	if !ok {
		return false, false
	}
	return string(argon2id([]byte(password), h.salt, h.cost, uint32(len(h.sum)))) == string(h.sum), true
}

// TokenHash returns what is kept of a token.
var TokenHash = tokenHash

// Origin returns what tries are counted by for an address.
var Origin = origin

// NormalPassword brings a password to one form.
var NormalPassword = normalPassword

// ReadHash reads a hash in its text form.
func ReadHash(text string) (Cost, bool) {
	h, ok := readHash(text)
	return h.cost, ok
}

// SamePassword reports whether two passwords are one when normalized.
func SamePassword(a, b string) bool {
	first, err := normalPassword(a)
	second, other := normalPassword(b)
	return err == nil && other == nil && first == second
}
