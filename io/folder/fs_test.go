package folder

import (
	"io/fs"
	"testing/fstest"
	"time"
)

// sizedFS has a yard.csv without end, of some stated size.
type sizedFS struct {
	fstest.MapFS
	size int64
}

func (s sizedFS) Open(name string) (fs.File, error) {
	if name == "yard.csv" {
		return &endless{size: s.size}, nil
	}
	return s.MapFS.Open(name)
}

func (s sizedFS) Stat(name string) (fs.FileInfo, error) {
	if name == "yard.csv" {
		return &endless{size: s.size}, nil
	}
	return s.MapFS.Stat(name)
}

// endless is a file of line feeds without end, and what is known of it.
type endless struct{ size int64 }

func (e *endless) Stat() (fs.FileInfo, error) { return e, nil }
func (e *endless) Close() error               { return nil }
func (e *endless) Name() string               { return "yard.csv" }
func (e *endless) Size() int64                { return e.size }
func (e *endless) Mode() fs.FileMode          { return 0o644 }
func (e *endless) ModTime() time.Time         { return time.Time{} }
func (e *endless) IsDir() bool                { return false }
func (e *endless) Sys() any                   { return nil }
func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '\n'
	}
	return len(p), nil
}
