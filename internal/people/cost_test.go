package people_test

import (
	"strings"
	"testing"

	"undersod/internal/people"
)

// vectors are hashes of the password "password" with the salt "somesalt". The
// vector of RFC 9106, section 5.3, has a secret and associated data, which
// x/crypto's IDKey does not take (its own tests hold it against that one), so
// these stand here: from the tests of the reference implementation that the RFC
// describes (phc-winner-argon2, src/test.c, "Argon2id"), and the last two printed
// by its command, `printf password | argon2 somesalt -id -t 3 -k 65536 -p 4 -l 32 -e`.
var vectors = []string{
	"$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc",
	"$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4",
	"$argon2id$v=19$m=256,t=2,p=2$c29tZXNhbHQ$bQk8UB/VmZZF4Oo79iDXuL5/0ttZwg2f/5U52iv1cDc",
	"$argon2id$v=19$m=65536,t=1,p=1$c29tZXNhbHQ$9qWtwbpyPd3vm1rB1GThgPzZ3/ydHL92zKL+15XZypg",
	"$argon2id$v=19$m=65536,t=3,p=4$c29tZXNhbHQ$Zh/vvW8pvLyPRkarwyqdekZFu1wFlTf4pVh/Ma2+zM0",
}

func TestHashesOfTheReferenceImplementation(t *testing.T) {
	for _, text := range vectors {
		fits, ok := people.Fits(text, "password")
		if !ok || !fits {
			t.Errorf("%s: read %t, fits %t", text, ok, fits)
		}
		if fits, _ := people.Fits(text, "passwore"); fits {
			t.Errorf("%s fits another password", text)
		}
	}
}

func TestHashesThatAreNone(t *testing.T) {
	good := vectors[1]
	for _, c := range []struct{ old, new string }{
		{"$argon2id", "$argon2i"}, {"$argon2id", "argon2id"}, {"v=19", "v=16"}, {"v=19", "v=019"},
		{"m=256", "m=0256"}, {"m=256", "m=+256"}, {"m=256", "m=7"}, {"m=256", "m=4294967551"}, {"m=256", "m=1048577"},
		{"m=256", "n=256"}, {"t=2", "t=0"}, {"t=2", "t=17"}, {"p=1", "p=0"}, {"p=1", "p=257"}, {"p=1", "p=17"},
		{",p=1", ""}, {",p=1", ",p=1,p=1"}, {"c29tZXNhbHQ", "c29tZXNhbHR"}, {"c29tZXNhbHQ", "c29tZXNhbHQ="},
		{"c29tZXNhbHQ", "c29t"}, {"c29tZXNhbHQ", strings.Repeat("c29t", 30)}, {"c29tZXNhbHQ", "c29\ntZXNhbHQ"},
		{"nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4", "nf65"}, {"nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4", ""},
		{good, ""}, {good, good + "$"}, {good, " " + good}, {good, strings.Repeat("$", 6)},
	} {
		text := strings.Replace(good, c.old, c.new, 1)
		if text == good {
			t.Fatalf("%q does not occur", c.old)
		}
		if _, ok := people.Fits(text, "password"); ok {
			t.Errorf("%s is taken for a hash", text)
		}
	}
}
