// Package model holds what crosses borders, as plain structs: what was said, what
// follows from it, and what screens ask. Code that reads and writes them, and
// the types and tables of the front end, are generated from here.
package model
