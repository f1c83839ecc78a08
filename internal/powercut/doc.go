// Package powercut holds no code, only tests: a disk that forgets. A process of
// its own pushes through intake into a store that lies on a FUSE file system of
// these tests, which notes every write, every change of size and every sync. From
// the notes they make the files that a power cut can leave: what was synced is
// there, and of what was not any sectors, in any order. Each such file must open,
// hold everything that was acknowledged and nothing that was not written, and
// verify clean.
//
//	POWER_CUTS=20000 go test ./internal/powercut       more cuts
//
// The store reads its file through a mapping. A process that serves a file
// system and maps a file of it can wait for itself, so what uses the store never
// runs in the process that serves.
package powercut
