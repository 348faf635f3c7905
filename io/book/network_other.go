//go:build !linux

package book

import (
	"path/filepath"
	"strings"
)

// onNetwork says whether a file lies on a file system of another machine, as far as its path tells.
func onNetwork(path string) bool { return strings.HasPrefix(filepath.VolumeName(path), `\\`) }
