package access

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"unicode/utf8"

	"github.com/alexedwards/argon2id"
)

// params are those that RFC 9106 gives for memory-constrained places: 64 MiB,
// three passes, four lanes.
var params = &argon2id.Params{Memory: 64 * 1024, Iterations: 3, Parallelism: 4, SaltLength: 16, KeyLength: 32}

// checking lets two passphrases be checked at a time: each takes 64 MiB.
var checking = make(chan struct{}, 2)

// shortest is the fewest letters of a passphrase. NIST SP 800-63B asks for 8 at
// least where one is alone, and for no other rule. From memory.
const shortest, longest = 10, 200

// Hash makes what is kept of a passphrase.
func Hash(ctx context.Context, passphrase string) (string, error) {
	switch n := utf8.RuneCountInString(passphrase); {
	case !utf8.ValidString(passphrase):
		return "", errors.New("the passphrase is not text")
	case n < shortest:
		return "", fmt.Errorf("the passphrase has %d letters; it must have %d at least: a few words are easy to keep", n, shortest)
	case n > longest:
		return "", fmt.Errorf("the passphrase has %d letters; it may have %d at most", n, longest)
	}
	if err := enter(ctx); err != nil {
		return "", err
	}
	defer leave()
	return argon2id.CreateHash(passphrase, params)
}

func enter(ctx context.Context) error {
	select {
	case checking <- struct{}{}:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

func leave() { <-checking }

// nobodys is the hash that is checked where there is none, for the time it takes.
var nobodys = sync.OnceValues(func() (string, error) { return argon2id.CreateHash("nobody has this passphrase", params) })

// check compares a passphrase with a hash; an empty hash fits none.
func check(ctx context.Context, passphrase, hash string) (bool, error) {
	if len(passphrase) > 4*longest {
		return false, nil
	}
	if err := enter(ctx); err != nil {
		return false, err
	}
	defer leave()
	if hash == "" {
		stand, err := nobodys()
		if err != nil {
			return false, err
		}
		_, err = argon2id.ComparePasswordAndHash(passphrase, stand)
		return false, err
	}
	return argon2id.ComparePasswordAndHash(passphrase, hash)
}
