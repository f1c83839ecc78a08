// Package simulation holds no code, only tests: a real server over a real
// store, tablets that keep what a browser's database would keep, a network
// that does everything a network can do, clocks that jump, crashes between any
// two steps, and somebody inside who writes in the names of others. A run is a
// list of steps drawn from a seed. When the storm is over and everybody has had
// time to exchange, nothing may be lost, counted twice, or seen differently by
// two people.
//
//	go test ./internal/simulation -sim.runs 10000        more runs
//	go test ./internal/simulation -sim.seed 42           one run again
//
// To add a fault, write a step and give it a row in the table of
// steps_test.go; to add an invariant, write a function of world and give it a
// row in the table of check_test.go. Both tables are read from top to bottom
// by whoever wants to know what is tried and what must hold. mutations_test.go
// shows that the invariants notice what they are there for.
package simulation
