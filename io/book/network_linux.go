package book

import (
	"path/filepath"
	"slices"

	"golang.org/x/sys/unix"
)

// onNetwork says whether a file lies on a file system of another machine. There several machines
// do not share the memory that a write-ahead log needs.
func onNetwork(path string) bool {
	var s unix.Statfs_t
	if err := unix.Statfs(filepath.Dir(path), &s); err != nil {
		return false
	}
	return slices.Contains([]int64{unix.NFS_SUPER_MAGIC, unix.SMB_SUPER_MAGIC,
		unix.SMB2_SUPER_MAGIC, unix.CIFS_SUPER_MAGIC, unix.AFS_SUPER_MAGIC,
		unix.CODA_SUPER_MAGIC, unix.CEPH_SUPER_MAGIC, unix.V9FS_MAGIC, unix.FUSE_SUPER_MAGIC},
		int64(s.Type)&0xffffffff)
}
