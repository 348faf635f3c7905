package main

import (
	"fmt"
	"path/filepath"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

type newCommand struct {
	Dir   string `arg:"" help:"Folder of the shop; it must be new or empty."`
	MM    bool   `name:"mm" help:"A metric shop: bare numbers are in millimetres."`
	Month string `help:"Folder of the first month; its name begins new ids." default:"month-01" placeholder:"NAME"`
}

func (c *newCommand) Help() string {
	return "Example: rackwright new my-shop --month 2027-03\n\nExample: rackwright new my-shop --mm"
}

func (c *newCommand) Run(e *env) error {
	unit := model.Inch
	if c.MM {
		unit = model.Millimetre
	}
	files, err := folder.NewShop(unit, c.Month)
	if err != nil {
		return command.Refuse("--month: %v", err)
	}
	shop := place.Tree{Files: files, What: "the new shop"}
	if shop.Complete(c.Dir) {
		return command.Refuse(
			"%s: holds an empty shop folder already; fill that in, or name a folder that "+
				"is new or empty", c.Dir)
	}
	if err := shop.Lay(c.Dir); err != nil {
		return err
	}
	if e.Quiet {
		return nil
	}
	fmt.Fprintf(e.Stdout, "An empty shop folder, written to %s\n\n", c.Dir)
	return report.NewShop(e.Stdout, c.Month, filepath.Join(c.Dir, c.Month), e.Columns())
}
