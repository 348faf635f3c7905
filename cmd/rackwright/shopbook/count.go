package shopbook

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"rackwright/cmd/rackwright/command"
	"rackwright/cmd/rackwright/place"
	"rackwright/io/folder"
	"rackwright/io/papers"
	"rackwright/model"
)

// Count is the command that writes the sheet of a count.
type Count struct {
	Shop  string   `arg:"" help:"Shop folder."`
	Bin   []string `help:"Count this bin only; write the flag once for each. An empty name is what lies in no bin." placeholder:"BIN" sep:"none"`
	To    string   `help:"File to write, the table; left out: count.csv in the shop folder." placeholder:"FILE"`
	Paper string   `help:"Size of the paper, a4 or letter. Left out, it is letter in an inch shop, a4 in a mm shop." enum:"a4,letter," default:"" placeholder:"SIZE"`
}

func (c *Count) Help() string {
	return `Examples:
  rackwright count shop
  rackwright count shop --bin A1 --bin A2

Writes a sheet with a row for each board, bin by bin, as a table and beside it as PDF to write on.
Write yes or no into the column found of each row of the table, and a row for each board that is not
there.`
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
	bins, err := c.bins(s, rack)
	if err != nil {
		return err
	}
	sheet, err := folder.EncodeCount(rack, bins, s.settings.Units)
	if err != nil {
		return err
	}
	var paper bytes.Buffer
	err = papers.Count(&paper, &s.settings, rack, bins,
		papers.Options{Paper: model.Paper(c.Paper), Job: place.NameOf(c.Shop)})
	if err != nil {
		return err
	}
	to := c.To
	if to == "" {
		to = s.path("count.csv")
	}
	return writeCount(e, to, sheet, paper.Bytes(), len(model.BinByBin(rack, bins)))
}

// bins are those to count, as the settings or the rack write them; nil: all.
func (c *Count) bins(s *shopBook, rack []model.Board) (bins []string, err error) {
	known := s.settings.BinNames(rack)
	for _, name := range c.Bin {
		found := false
		for _, k := range known {
			if model.FoldName(k) != model.FoldName(name) {
				continue
			}
			if found = true; !slices.Contains(bins, k) {
				bins = append(bins, k)
			}
		}
		if !found && len(known) == 0 {
			return nil, command.Refuse("--bin %q: no board lies in a bin, and shop.toml names none",
				name)
		} else if !found {
			return nil, command.Refuse(
				"--bin %q: no board lies there, and shop.toml names no such "+
					"bin; the nearest is %q", name, model.Nearest(name, known))
		}
	}
	return bins, nil
}

// writeCount writes both files, over none that may be filled in or is not ours.
func writeCount(e *command.Env, to string, sheet, paper []byte, boards int) error {
	beside := strings.TrimSuffix(to, ".csv") + ".pdf"
	if beside == to+".pdf" && strings.HasSuffix(to, ".pdf") {
		return command.Refuse("--to %s: it is the table that is written there; name a file that "+
			"ends in .csv", to)
	}
	if is, err := os.ReadFile(to); err == nil && !bytes.Equal(is, sheet) {
		return command.Refuse("%s: it is there already, and may be filled in; move it away, or "+
			"name another file with --to", to)
	}
	if is, err := os.ReadFile(beside); !errors.Is(err, fs.ErrNotExist) && !papers.IsOurs(is) {
		return command.Refuse("%s: it is there already, and is no paper of this program; move it "+
			"away, or name another file with --to", beside)
	}
	for _, f := range []struct {
		name string
		data []byte
	}{{beside, paper}, {to, sheet}} {
		if err := place.ReplaceFile(f.name, f.data); err != nil {
			return command.Refuse("%s: cannot be written (%v); put that right", f.name,
				command.Reason(err))
		}
	}
	if !e.Quiet {
		fmt.Fprintf(e.Stdout, "Written to %s, boards: %d\nTo write on, printed at full size: %s\n",
			to, boards, beside)
	}
	return nil
}
