package bolt

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const someMounts = `22 27 0:21 / /proc rw,relatime - proc proc rw
27 1 254:0 / / rw,relatime - ext4 /dev/vda rw,discard
30 27 254:16 / /srv rw,relatime shared:1 - xfs /dev/vdb rw
31 30 254:32 / /srv/my\040records rw,relatime - ext4 /dev/mapper/a\040b rw
32 27 0:40 / /tmp rw - tmpfs tmpfs rw,size=1024k
33 27 254:48 / /tmp rw - ext4 /dev/vdd rw
34 27 0:40 / /var/lib/records rw - btrfs /dev/vde rw
35 27 0:40 / /var rw - xfs /dev/vdf rw
36 27 0:40 /four - ext4 /dev/vdg rw
37 27 0:40 / /five - ext4 /dev/vdh
38 27 0:40 / /one rw - ext4
broken line
`

// TestFault34FastCommits reads what the system says about where the records
// lie, and warns where a power cut could take what was synced.
func TestFault34FastCommits(t *testing.T) {
	for _, tt := range []struct{ path, kind, device string }{
		{"/home/x/records.db", "ext4", "/dev/vda"},
		{"/srv/records.db", "xfs", "/dev/vdb"},
		{"/srv/my records/records.db", "ext4", "/dev/mapper/a b"},
		{"/srv/my recordsx/records.db", "xfs", "/dev/vdb"},
		{"/tmp/x", "ext4", "/dev/vdd"},
		{"/srv", "xfs", "/dev/vdb"},
		{"/var/lib/records/records.db", "btrfs", "/dev/vde"},
		{"/var/lib/other/records.db", "xfs", "/dev/vdf"},
		{"/four/records.db", "ext4", "/dev/vda"},
		{"/five/records.db", "ext4", "/dev/vdh"},
		{"/one/records.db", "ext4", "/dev/vda"},
	} {
		if kind, device := mountOf(someMounts, tt.path); kind != tt.kind || device != tt.device {
			t.Errorf("%s lies on %s %s, want %s %s", tt.path, kind, device, tt.kind, tt.device)
		}
	}
	for release, loses := range map[string]bool{
		"5.4.0-150-generic": false, "5.9.16": false, "5.10.0-8-amd64": true, "5.10.93": true, "5.10.94-1": false,
		"5.12.3": true, "5.15.0-25-generic": true, "5.15.26": true, "5.15.27+": false, "5.16.20": true, "5.17.0": false,
		"6.1.0-13-amd64": false, "6.18.44": false, "strange": false, "": false,
		"4.15.0-20-generic": false, "6.12.5": false, "5.12.30": true, "5.16.30": true, "5.10.93.1": true,
	} {
		if losesFastCommits(release) != loses {
			t.Errorf("kernel %q: loses %v, want %v", release, !loses, loses)
		}
	}
	said := diskWarning("5.12.3", someMounts, "/srv/my records/records.db")
	if !strings.Contains(said, "/dev/mapper/a b") || !strings.Contains(said, "Update to Linux") || !strings.Contains(said, "tune2fs -l") {
		t.Errorf("the warning reads %q", said)
	}
	for _, quiet := range []string{
		diskWarning("5.12.3", someMounts, "/srv/records.db"), diskWarning("6.1.0", someMounts, "/home/x"), diskWarning("5.12.3", "", "/home/x"),
	} {
		if quiet != "" {
			t.Errorf("a warning without a reason: %q", quiet)
		}
	}
	_ = DiskWarning(t.TempDir()) // whatever this system says, it is no failure
}

// TestWhereAPathLeads: to the file that a link names, from the folder that the
// program runs in.
func TestWhereAPathLeads(t *testing.T) {
	folder, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	file, link := filepath.Join(folder, "records.db"), filepath.Join(folder, "link")
	if err := errors.Join(os.WriteFile(file, nil, 0o600), os.Symlink(file, link)); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		file: file, link: file, filepath.Join(folder, "none"): filepath.Join(folder, "none"), "none": filepath.Join(here, "none"),
	} {
		if got := located(path); got != want {
			t.Errorf("%s leads to %s, want %s", path, got, want)
		}
	}
}
