// Command history reads histories of what clients of the server saw, one
// exchange a line, and fails when no server that keeps its promises can have
// answered so; see internal/history. Everybody in a history must have come to
// rest at its end.
//
// Usage: go run ./cmd/history HISTORY.jsonl...
package main

import (
	"fmt"
	"io"
	"os"

	"doorsill/internal/history"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "history:", err)
		os.Exit(1)
	}
}

func run(paths []string, out io.Writer) error {
	for _, path := range paths {
		list, err := read(path)
		if err != nil {
			return err
		}
		sum, found := history.Check(list, history.Everybody(list))
		for _, one := range found {
			fmt.Fprintln(out, one)
		}
		if len(found) > 0 {
			return fmt.Errorf("%s: %d answers do not fit together", path, len(found))
		}
		if sum.Pushes == 0 || sum.Pulls == 0 {
			return fmt.Errorf("%s: expected pushes and pulls that were answered, found %d and %d", path, sum.Pushes, sum.Pulls)
		}
		fmt.Fprintf(out, "%s: %d pushes, %d pulls, %d events acknowledged in %d logs: one history.\n", path, sum.Pushes, sum.Pulls, sum.Acknowledged, sum.Logs)
	}
	return nil
}

func read(path string) ([]history.Exchange, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return history.Read(file)
}
