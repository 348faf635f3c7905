package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"testing"

	"rackwright/cmd/rackwright/command"
)

// A command that only tells ends when it is interrupted, and says that not all is told; else its
// own error stands.
func TestTellingIsInterrupted(t *testing.T) {
	ctx, interrupt := context.WithCancel(t.Context())
	e := &env{command.Env{Ctx: ctx, Stdout: io.Discard, Stderr: io.Discard}}
	ours := errors.New("ours")
	if err := e.tell("shop", func() error { return ours }); err != ours {
		t.Errorf("its own error is %v", err)
	}
	never := make(chan struct{})
	defer close(never)
	err := e.tell("shop", func() error {
		interrupt()
		<-never
		return nil
	})
	var said bytes.Buffer
	if code := finish(err, &said); code != exitInterrupted || said.String() !=
		"rackwright: interrupted: shop: not all of it is told (context canceled)\n" {
		t.Errorf("exit code %d, and says %q", code, said.String())
	}
}
