package people

import (
	"encoding/base64"
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/crypto/argon2"
)

// Cost is what hashing one password with argon2id takes. The parameters are
// those of RFC 9106 ("Argon2 Memory-Hard Function", 2021), section 3.1.
type Cost struct {
	Memory  uint32 // KiB
	Passes  uint32 // over the memory
	Threads uint8
}

// DefaultCost returns the second recommended option of RFC 9106, section 4: the
// one for machines without memory to spare.
func DefaultCost() Cost { return Cost{Memory: 64 << 10, Passes: 3, Threads: 4} }

// What is taken from a hash that is kept: a damaged or foreign one must not eat
// the memory.
const (
	mostMemory  = 1 << 20 // KiB
	mostPasses  = 16
	mostThreads = 16

	saltBytes = 16 // of new hashes; RFC 9106, section 3.1
	sumBytes  = 32
	leastSalt = 8
	leastSum  = 16
	mostBytes = 64 // of a salt or a sum
)

// check refuses what argon2id cannot be run with or what would take too much.
func (c Cost) check() error {
	if c.Threads < 1 || c.Threads > mostThreads || c.Passes < 1 || c.Passes > mostPasses ||
		c.Memory < 8*uint32(c.Threads) || c.Memory > mostMemory {
		return fmt.Errorf("%d KiB, %d passes, %d threads: 1 to %d threads, 1 to %d passes, 8 KiB a thread to %d KiB are expected",
			c.Memory, c.Passes, c.Threads, mostThreads, mostPasses, mostMemory)
	}
	return nil
}

// below reports whether a cost is lower than another in what slows a guesser.
func (c Cost) below(other Cost) bool {
	return c.Memory < other.Memory || c.Passes < other.Passes
}

// argon2id hashes a password.
func argon2id(password, salt []byte, c Cost, length uint32) []byte {
	return argon2.IDKey(password, salt, c.Passes, c.Memory, c.Threads, length)
}

// hashed is a password as it is kept.
type hashed struct {
	cost      Cost
	salt, sum []byte
}

// String writes a hash in its usual text form:
// $argon2id$v=19$m=65536,t=3,p=4$salt$sum, in base64 without padding.
func (h hashed) String() string {
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, h.cost.Memory, h.cost.Passes, h.cost.Threads,
		base64.RawStdEncoding.EncodeToString(h.salt), base64.RawStdEncoding.EncodeToString(h.sum))
}

// readHash reads what String writes, and nothing else.
func readHash(text string) (hashed, bool) {
	var h hashed
	parts := strings.Split(text, "$")
	if len(parts) != 6 || len(text) > 400 {
		return h, false
	}
	costs := strings.Split(parts[3], ",")
	if len(costs) != 3 {
		return h, false
	}
	h.cost = Cost{Memory: number(costs[0], "m=", 32), Passes: number(costs[1], "t=", 32), Threads: uint8(number(costs[2], "p=", 8))}
	var saltErr, sumErr error
	h.salt, saltErr = base64.RawStdEncoding.Strict().DecodeString(parts[4])
	h.sum, sumErr = base64.RawStdEncoding.Strict().DecodeString(parts[5])
	switch {
	case saltErr != nil, sumErr != nil, h.cost.check() != nil,
		len(h.salt) < leastSalt, len(h.salt) > mostBytes, len(h.sum) < leastSum, len(h.sum) > mostBytes:
		return hashed{}, false
	}
	return h, h.String() == text
}

// number reads a parameter; 0, which no parameter may be, where it is none.
func number(text, name string, bits int) uint32 {
	digits, ok := strings.CutPrefix(text, name)
	n, err := strconv.ParseUint(digits, 10, bits)
	if !ok || err != nil {
		return 0
	}
	return uint32(n)
}
