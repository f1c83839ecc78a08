package main

import (
	"crypto/sha256"
	"fmt"
	"os"
	"runtime/debug"
	"strings"
	"testing"

	"doorsill/internal/engine"
)

func TestVersionNamesWhatTheBinaryComputesWith(t *testing.T) {
	standard, err := os.ReadFile("../../internal/checklist/authoring/standard.json")
	if err != nil {
		t.Fatal(err)
	}
	revision = "release-7"
	t.Cleanup(func() { revision = "" })
	code, out, errOut := typed("", "version")
	if code != 0 || errOut != "" {
		t.Fatalf("exit code %d, %s", code, errOut)
	}
	for _, want := range []string{
		"revision  release-7\n", "engine    " + engine.Version + "\n", "checklist standard ",
		fmt.Sprintf("sha256 %x\n", sha256.Sum256(standard)),
	} {
		if !strings.Contains(out, want) {
			t.Errorf("version does not say %q:\n%s", want, out)
		}
	}
	if code, _, _ := typed("", "version", "extra"); code != exitUsage {
		t.Errorf("exit code %d for an argument too many, want %d", code, exitUsage)
	}
}

func TestRevisionComesFromTheBuild(t *testing.T) {
	stamp := func(settings ...debug.BuildSetting) *debug.BuildInfo { return &debug.BuildInfo{Settings: settings} }
	commit := debug.BuildSetting{Key: "vcs.revision", Value: "0123abc"}
	for _, c := range []struct {
		info *debug.BuildInfo
		want string
	}{
		{nil, "unknown"},
		{stamp(), "unknown"},
		{stamp(debug.BuildSetting{Key: "vcs", Value: "git"}, commit, debug.BuildSetting{Key: "vcs.modified", Value: "false"}), "0123abc"},
		{stamp(commit, debug.BuildSetting{Key: "vcs.modified", Value: "true"}), "0123abc-dirty"},
	} {
		if got := stampedRevision(c.info); got != c.want {
			t.Errorf("revision of %+v is %q, want %q", c.info, got, c.want)
		}
	}
}
