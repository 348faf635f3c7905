package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"rackwright/cmd/rackwright/command"
	"rackwright/io/manual"
	"rackwright/model"
)

type helpCommand struct {
	Topic string `arg:"" optional:"" help:"Topic of the manual; all are listed if left out."`
}

func (c *helpCommand) Help() string { return "Example: rackwright help files" }

func (c *helpCommand) Run(e *env, k *kong.Context) error {
	text, known := manual.Text(c.Topic)
	switch {
	case c.Topic != "" && !known:
		return c.unknown(k)
	case e.Quiet:
		return nil
	case c.Topic == "":
		text = topics()
	}
	_, err := io.WriteString(e.Stdout, text)
	return err
}

// topics lists all topics, one a line.
func topics() string {
	var out strings.Builder
	out.WriteString("The manual has these topics; `rackwright help TOPIC` prints one:\n\n")
	for _, t := range manual.Topics() {
		fmt.Fprintf(&out, "  %-10s  %s\n", t.Name, t.About)
	}
	out.WriteString("\n`rackwright COMMAND --help` tells the flags of a command.\n")
	return out.String()
}

// unknown refuses a topic that there is not; the name of a command leads to that command's help.
func (c *helpCommand) unknown(k *kong.Context) error {
	var names []string
	for _, t := range manual.Topics() {
		names = append(names, t.Name)
	}
	all := strings.Join(names, ", ")
	if slices.ContainsFunc(k.Model.Children, func(n *kong.Node) bool {
		return n.Name == c.Topic
	}) {
		return command.Refuse("help: %s is a command, not a topic; see rackwright %s --help; the "+
			"topics are %s",
			c.Topic, c.Topic, all)
	}
	return command.Refuse("help: there is no topic %.40q; the nearest is %s; all are %s", c.Topic,
		model.Nearest(c.Topic, names), all)
}
