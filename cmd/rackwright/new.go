package main

import (
	"fmt"
	"os"
	"path/filepath"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/folder"
	"rackwright/io/report"
	"rackwright/model"
)

type newCommand struct {
	Dir   string `arg:"" help:"Folder of the shop, or of another month in a shop folder; it must be new or empty."`
	MM    bool   `name:"mm" help:"A metric shop: bare numbers are in millimetres."`
	Month string `help:"Folder of the first month; its name begins new ids." default:"month-01" placeholder:"NAME"`
}

func (c *newCommand) Help() string {
	return `Examples:
  rackwright new my-shop --month 2027-03
  rackwright new my-shop --mm
  rackwright new my-shop/2027-04`
}

func (c *newCommand) Run(e *env) error {
	if whole := place.WholeOf(c.Dir); folder.WhyNoShop(os.DirFS(filepath.Dir(whole))) == "" {
		return c.nextMonth(e, filepath.Base(whole))
	}
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

// nextMonth writes the job folder of another month of a shop.
func (c *newCommand) nextMonth(e *env, name string) error {
	if c.MM {
		return command.Refuse("%s: is a month of a shop that has its units already; leave out --mm",
			c.Dir)
	}
	files, err := folder.NewMonth(name)
	if err != nil {
		return command.Refuse("%s: %v", c.Dir, err)
	}
	month := place.Tree{Files: files, What: "the new month"}
	if month.Complete(c.Dir) {
		return command.Refuse("%s: holds an empty month already; fill that in, or name a folder "+
			"that is new or empty", c.Dir)
	}
	if err := month.Lay(c.Dir); err != nil || e.Quiet {
		return err
	}
	fmt.Fprintf(e.Stdout, "An empty job folder, written to %s\n\n", c.Dir)
	return report.NewMonth(e.Stdout, c.Dir, e.Columns())
}
