package bolt

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// The library's documentation names one file system that can lose what was
// synced: ext4 with fast commits, on kernels from 5.10 to before the fixes in
// 5.10.94, 5.15.17 and 5.15.27, which 5.17 has
// (https://github.com/etcd-io/bbolt, README, Known Issues).

// DiskWarning says in a sentence what is known to be unsafe about where a path
// lies; empty when nothing is, or when the system does not tell.
func DiskWarning(path string) string {
	release, _ := os.ReadFile("/proc/sys/kernel/osrelease") // nothing where the system does not tell
	mounts, _ := os.ReadFile("/proc/self/mountinfo")
	return diskWarning(strings.TrimSpace(string(release)), string(mounts), located(path))
}

// located is where a path leads to. A link that leads nowhere stays as it is.
func located(path string) string {
	if whole, err := filepath.EvalSymlinks(path); err == nil {
		path = whole
	}
	path, _ = filepath.Abs(path) // fails only without a working folder
	return path
}

func diskWarning(release, mounts, path string) string {
	kind, device := mountOf(mounts, path)
	if kind != "ext4" || !losesFastCommits(release) {
		return ""
	}
	return fmt.Sprintf("The records lie on ext4 (%s), and Linux %s can lose what was written when the power fails while that file system uses fast commits. "+
		"Update to Linux 5.10.94, 5.15.27, 5.17 or later; until then \"tune2fs -l %s\" must not list fast_commit.", device, release, device)
}

// losesFastCommits says whether a kernel has fast commits without the fixes.
func losesFastCommits(release string) bool {
	version, _, _ := strings.Cut(release, "-")
	var parts [3]int
	for i, text := range strings.SplitN(version, ".", 3) {
		parts[i], _ = strconv.Atoi(strings.TrimRight(text, "+")) // 0 is before all of these
	}
	major, minor, patch := parts[0], parts[1], parts[2]
	switch {
	case major != 5 || minor < 10 || minor > 16:
		return false
	case minor == 10:
		return patch < 94
	case minor == 15:
		return patch < 27
	}
	return true
}

// mountOf finds the file system that a path lies on in the text of
// /proc/self/mountinfo: the mount with the longest place above the path, and of
// several the last, which covers the others.
func mountOf(mounts, path string) (kind, device string) {
	longest := -1
	for line := range strings.Lines(mounts) {
		before, after, _ := strings.Cut(line, " - ")
		left, right := strings.Fields(before), strings.Fields(after)
		if len(left) < 5 || len(right) < 2 {
			continue
		}
		place := unescaped(left[4])
		above := place == "/" || path == place || strings.HasPrefix(path, place+"/")
		if above && len(place) >= longest {
			longest, kind, device = len(place), right[0], unescaped(right[1])
		}
	}
	return kind, device
}

// unescaped undoes how the kernel writes spaces and the like: \040.
func unescaped(text string) string {
	return strings.NewReplacer(`\040`, " ", `\011`, "\t", `\012`, "\n", `\134`, `\`).Replace(text)
}
