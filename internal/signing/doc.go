// Package signing says what a tablet signs, byte for byte, and checks its
// signatures. A tablet has a key pair of its own, whose public half it registers
// with the server. It signs that registration, what it pushes and what it seals.
//
// A key is Ed25519 (RFC 8032), or ECDSA on P-256 with SHA-256 (FIPS 186-5) where
// a browser lacks the first. What is signed always begins with a line that says
// what it is for, so that no signature can stand for another.
package signing
