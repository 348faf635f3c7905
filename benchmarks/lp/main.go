// Lp times the linear programs that a plan solves.
//
// It plans a job folder and keeps what is asked of nest/lp, then asks it again of the engine as it
// is, one program at a time, and prints the time by what came before each solve:
//
//	go run ./benchmarks/lp DIR              plan the job folder DIR, then time its programs
//	go run ./benchmarks/lp -record FILE DIR    and keep the record
//	go run ./benchmarks/lp FILE             time the programs of a record
//	go run ./benchmarks/lp -shop 120,600,300 [-record FILE]    generation for an invented shop
//
// So two states of nest/lp are set against each other, and testdata/clp.cpp sets CLP against both
// on the same record. It fails where a program comes out otherwise than recorded.
package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"rackwright/io/folder"
	"rackwright/nest"
	"rackwright/nest/lp"
)

func main() {
	keep := flag.String("record", "", "keep the record in this `file`")
	work := flag.Int64("work", 0, "work limit of the plan, in millions; 0 is the default")
	invented := flag.String("shop", "",
		"items,boards,columns a round: `numbers` of an invented shop")
	flag.Parse()
	if err := run(flag.Arg(0), *keep, *invented, *work*1e6, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "lp:", err)
		os.Exit(1)
	}
}

func run(from, keep, invented string, work int64, out io.Writer) error {
	record, err := recorded(from, invented, work)
	if err != nil {
		return err
	}
	if keep != "" {
		if err := os.WriteFile(keep, record, 0o666); err != nil {
			return err
		}
	}
	t, err := replay(record)
	if err != nil {
		return err
	}
	return t.print(out)
}

// recorded is a record: that of a file, of a plan, or of an invented shop.
func recorded(from, invented string, work int64) ([]byte, error) {
	if invented == "" {
		info, err := os.Stat(from)
		if err != nil {
			return nil, err
		}
		if !info.IsDir() {
			return os.ReadFile(from)
		}
	}
	var record bytes.Buffer
	stop := lp.Record(&record)
	err := ask(from, invented, work)
	return record.Bytes(), errors.Join(err, stop())
}

func ask(from, invented string, work int64) error {
	if invented != "" {
		var items, boards, columns int
		if _, err := fmt.Sscanf(invented, "%d,%d,%d", &items, &boards, &columns); err != nil ||
			items < 1 || boards < 1 || columns < 1 {
			return fmt.Errorf("-shop %s: not three numbers above nought, as 120,600,300", invented)
		}
		newShop(items, boards).generate(columns)
		return nil
	}
	job, _, err := folder.ReadJob(os.DirFS(from))
	if err != nil {
		return err
	}
	_, err = nest.Plan(context.Background(), job, nest.Options{Work: work})
	return err
}
