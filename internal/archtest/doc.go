// Package archtest holds no code. Its tests keep the laws of this repository:
// which package may import which, where a library may be seen, and what every
// package owes its reader. Each law says why it is there.
package archtest
