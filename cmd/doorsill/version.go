package main

import (
	"context"
	"flag"
	"fmt"
	"runtime/debug"

	"doorsill/internal/checklist/authoring"
	"doorsill/internal/engine"
)

// revision names the sources; "make build" has the linker set it. Empty takes
// what the go command stamped by itself.
var revision string

// runVersion prints what this binary was built from and what it computes with:
// what to name in a report, and what two servers must share to give the same
// results.
func runVersion(_ context.Context, args []string, con console) error {
	flags := flag.NewFlagSet("version", flag.ContinueOnError)
	if err := parseOptions(flags, con, args); err != nil {
		return err
	}
	source, standard := revision, authoring.Standard()
	if source == "" {
		info, _ := debug.ReadBuildInfo() // nil without build information
		source = stampedRevision(info)
	}
	_, err := fmt.Fprintf(con.out, "revision  %s\nengine    %s\nchecklist %s %s\n          sha256 %s\n",
		source, engine.Version, standard.ID, standard.Version, standard.Hash())
	return err
}

// stampedRevision returns the commit that the go command stamped into the
// binary, with "-dirty" after it when files differed from it, or "unknown":
// tests and builds outside a repository carry no stamp.
func stampedRevision(info *debug.BuildInfo) string {
	if info == nil {
		return "unknown"
	}
	commit, dirty := "unknown", ""
	for _, setting := range info.Settings {
		switch {
		case setting.Key == "vcs.revision":
			commit = setting.Value
		case setting.Key == "vcs.modified" && setting.Value == "true":
			dirty = "-dirty"
		}
	}
	return commit + dirty
}
