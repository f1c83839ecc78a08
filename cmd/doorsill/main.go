// Command doorsill serves the app and its records, and checks, scores and
// manages them from the command line. "doorsill help" lists what it can do.
package main

import (
	"context"
	"os"
)

func main() {
	os.Exit(run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
