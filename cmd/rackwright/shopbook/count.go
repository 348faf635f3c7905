package shopbook

import (
	"bytes"
	"fmt"
	"os"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/folder"
)

// Count is the command that writes the sheet of a count.
type Count struct {
	Shop string `arg:"" help:"Shop folder."`
	To   string `help:"File to write; left out: count.csv in the shop folder." placeholder:"FILE"`
}

func (c *Count) Help() string {
	return `Example: rackwright count shop

The sheet has a row for each board, bin by bin. Write yes or no into the column found of each, and a
row for each board that is not there.`
}

func (c *Count) Run(e *command.Env) error {
	s, err := openShop(c.Shop)
	if err != nil {
		return err
	}
	defer s.close()
	rack, err := s.rack(e)
	if err != nil {
		return err
	}
	sheet, err := folder.EncodeCount(rack, s.settings.Units)
	if err != nil {
		return err
	}
	to := c.To
	if to == "" {
		to = s.path("count.csv")
	}
	if is, err := os.ReadFile(to); err == nil && !bytes.Equal(is, sheet) {
		return command.Refuse(
			"%s: it is there already, and may be filled in; move it away, or name "+
				"another file with --to", to)
	}
	if err := place.ReplaceFile(to, sheet); err != nil {
		return command.Refuse("%s: cannot be written (%v); put that right", to, command.Reason(err))
	}
	if !e.Quiet {
		fmt.Fprintf(e.Stdout, "Written to %s, boards: %d\n", to, len(rack))
	}
	return nil
}
