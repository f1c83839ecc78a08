package main

import (
	"fmt"
	"io"
)

func run(args []string, out io.Writer) error {
	command := ""
	if len(args) > 0 {
		command = args[0]
	}
	switch command {
	case "types":
		return writeTypes(".")
	}
	return fmt.Errorf("unknown command %q; use no command, -check, types or unit", command)
}
