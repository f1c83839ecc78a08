package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
)

var errOverBudget = errors.New("the front end is over its size budget")

// run carries out one command in the current folder, which must be the top of
// the repository.
func run(args []string, out io.Writer) error {
	if len(args) == 1 && args[0] == "types" {
		return writeTypes(".")
	}
	if len(args) == 1 && args[0] == "unit" {
		return buildUnit(".", out)
	}
	if len(args) == 2 && args[0] == "engine" {
		return writeEngine(".", args[1])
	}
	flags := flag.NewFlagSet("bundle", flag.ContinueOnError)
	check := flags.Bool("check", false, "fail when a size is over its budget")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() > 0 {
		return fmt.Errorf("unknown command %q; use none, -check, types or unit, or engine with a file", flags.Arg(0))
	}
	return buildAll(".", *check, out)
}

// buildAll builds embed/dist and prints its sizes.
func buildAll(root string, check bool, out io.Writer) error {
	cache := newCache(root)
	d, err := assemble(root, cache)
	if err != nil {
		return err
	}
	if err := d.compress(cache); err != nil {
		return err
	}
	if err := d.write(root); err != nil {
		return err
	}
	over := report(out, measure(d))
	if check && over {
		return errOverBudget
	}
	return nil
}
