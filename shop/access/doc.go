// Package access says who may do what: people of the workshop with their roles,
// passphrases, sessions, and the brakes on guessing.
//
// In: a place where people and sessions are kept, and requests. Out: who asks,
// whether they may, and a certificate of the workshop's own. On the machine
// itself nobody needs a passphrase; beyond it everybody does.
//
// It keeps no passphrase, only what argon2id made of it, and writes no pages.
package access
