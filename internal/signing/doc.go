// Package signing says what a tablet signs and checks it. A tablet has a key
// pair of its own, whose public half it registers with the server: what it
// sends, what it seals, and that it is itself when somebody signs in on it.
//
// A key is Ed25519 (RFC 8032), or ECDSA on P-256 with SHA-256 (FIPS 186-5) where
// a browser lacks the first. What is signed always begins with a line that says
// what it is for, so that no signature can stand for another.
package signing
