// Book times the commands of a shop folder with a long book, and prints what came out.
//
// That is the time and memory of each command, as a maker waits for it: the program is built and
// started anew. It runs on an invented shop, whose book is made first.
//
//	go run ./benchmarks/book -events 100000 -boards 10000
//	go run ./benchmarks/book -events 100000 -boards 10000 -write DIR    only writes the shop folder
//
// What can be repeated is run three times, and its median counts.
package main

import (
	"context"
	"encoding/csv"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"rackwright/benchmarks/told"
	"rackwright/model"
)

func main() { told.Main("book", measure) }

func measure(ctx context.Context, args []string, out, progress io.Writer) error {
	flags := flag.NewFlagSet("book", flag.ContinueOnError)
	flags.SetOutput(progress)
	events := flags.Int("events", 100_000, "events in the book")
	boards := flags.Int("boards", 10_000, "boards on the rack")
	seed := flags.Int64("seed", 1, "what is drawn")
	write := flags.String("write", "", "only write the shop `folder`")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if *boards < 2*ofThePlan || *events < *boards {
		return fmt.Errorf("write at least %d boards, and as many events", 2*ofThePlan)
	}
	s := invent(*seed, *events, *boards)
	if *write != "" {
		return s.write(*write)
	}
	dir, err := os.MkdirTemp("", "rackwright-book")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	m := &measuring{ctx: ctx, dir: dir, progress: progress}
	if err := s.write(m.path("shop")); err != nil {
		return err
	}
	build := exec.CommandContext(ctx, "go", "build", "-o", m.path("rackwright"),
		"rackwright/cmd/rackwright")
	if said, err := build.CombinedOutput(); err != nil {
		return fmt.Errorf("go build: %w\n%s", err, said)
	}
	if err := m.all(s); err != nil {
		return err
	}
	t := told.Markdown(out, " command", "time", "of the CPU", "memory")
	for _, row := range m.rows {
		if err := t.Append(row); err != nil {
			return err
		}
	}
	return t.Render()
}

// measuring is a run of commands on a shop folder.
type measuring struct {
	ctx      context.Context
	dir      string
	progress io.Writer
	rows     [][]string
}

func (m *measuring) path(name string) string { return filepath.Join(m.dir, name) }

// all runs the commands.
func (m *measuring) all(s *shop) error {
	shop, month := m.path("shop"), filepath.Join(m.path("shop"), month)
	out, sheet := filepath.Join(month, "out"), filepath.Join(m.dir, "count.csv")
	count := []string{"count", shop, "--to", sheet}
	set, toCount := model.Settings{}, 0
	for _, bin := range set.BinNames(s.rack) {
		if toCount < min(1000, len(s.rack)/2) {
			toCount += len(model.BinByBin(s.rack, []string{bin}))
			count = append(count, "--bin", bin)
		}
	}
	some := s.rack[len(s.rack)/2].ID
	for _, c := range []struct {
		name  string
		times int
		args  []string
	}{
		{"rack list", 3, []string{"rack", "list", shop}},
		{"rack list --bin A01", 3, []string{"rack", "list", shop, "--bin", "A01"}},
		{"rack old", 3, []string{"rack", "old", shop}},
		{"rack history of a board", 3, []string{"rack", "history", shop, some}},
		{"rack add", 1, []string{"rack", "add", shop, "new", "pine", "1x6", "50"}},
		{"rack move", 1, []string{"rack", "move", shop, "new", "A01"}},
		{"rack undo", 1, []string{"rack", "undo", shop}},
		{"count of some bins", 1, count},
		{"reconcile, without ids", 3, []string{"reconcile", shop, sheet}},
		{"reconcile --accept", 1, []string{"reconcile", shop, sheet, "--accept"}},
		{"check of a month", 3, []string{"check", month}},
		{"", 1, []string{"plan", month, "--date", "2027-03-01"}},
		{"book", 1, []string{"book", out}},
		{"receive", 1, []string{"receive", out}},
		{"done", 1, []string{"done", out}},
		{"audit", 3, []string{"audit", shop}},
	} {
		if c.args[0] == "reconcile" && c.times > 1 {
			found, err := fillIn(sheet)
			if err != nil {
				return err
			}
			c.name = fmt.Sprintf("reconcile of %d boards, without ids", found)
		}
		if err := m.command(c.name, c.times, c.args); err != nil {
			return err
		}
	}
	return nil
}

// command runs one command some times, and notes its median times and the most memory. One without
// a name is only run.
func (m *measuring) command(name string, times int, args []string) error {
	var took, worked []time.Duration
	var memory int64
	for range times {
		cmd := exec.CommandContext(m.ctx, m.path("rackwright"), args...)
		began := time.Now()
		said, err := cmd.CombinedOutput()
		if err != nil {
			return fmt.Errorf("rackwright %s: %w\n%s", strings.Join(args, " "), err, said)
		}
		took = append(took, time.Since(began))
		worked = append(worked, cmd.ProcessState.UserTime()+cmd.ProcessState.SystemTime())
		memory = max(memory, told.MemoryOf(cmd.ProcessState))
	}
	if name != "" {
		m.rows = append(m.rows, []string{name, median(took), median(worked),
			fmt.Sprintf("%d MiB", memory)})
		fmt.Fprintln(m.progress, strings.Join(m.rows[len(m.rows)-1], ", "))
	}
	return nil
}

func median(of []time.Duration) string {
	slices.Sort(of)
	return fmt.Sprintf("%.2f s", of[len(of)/2].Seconds())
}

// fillIn fills in a sheet as a maker does who reads no id: each board is there, its length off by
// up to 1/8 in. It says how many there are.
func fillIn(sheet string) (boards int, err error) {
	data, err := os.ReadFile(sheet)
	if err != nil {
		return 0, err
	}
	rows, err := csv.NewReader(strings.NewReader(string(data))).ReadAll()
	if err != nil {
		return 0, err
	}
	const board, length, found = 1, 4, 6
	r := rand.New(rand.NewPCG(3, 9))
	for _, row := range rows[1:] {
		if row[found] != "" { // the row of a bin
			continue
		}
		var is float64
		if _, err := fmt.Sscan(row[length], &is); err != nil {
			return 0, err
		}
		row[board], row[found] = "", "yes"
		row[length] = fmt.Sprintf("%.3f", is+0.25*r.Float64()-0.125)
		boards++
	}
	f, err := os.Create(sheet)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	return boards, csv.NewWriter(f).WriteAll(rows)
}
