// Openstacks puts the products of published instances in sequence and prints how many customers
// are open at once, beside the published optimum.
//
//	go run ./benchmarks/openstacks FILE
//
// FILE has one instance after another: a line
//
//	name customers products optimum source
//
// then a line for each customer, with a 0 or 1 for each product, 1 if the customer needs it. A line
// is printed for each: name, value, optimum. It fails where an instance of up to 20 customers
// misses its optimum, where a value is below it, and where a result says what is not so.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"rackwright/nest/openstacks"
)

func main() {
	if err := run(os.Args[1:], os.Stdout, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "openstacks:", err)
		os.Exit(1)
	}
}

func run(args []string, out, told io.Writer) error {
	if len(args) != 1 {
		return errors.New("one file is wanted: go run ./benchmarks/openstacks FILE")
	}
	text, err := os.ReadFile(args[0])
	if err != nil {
		return err
	}
	instances, err := read(string(text))
	if err != nil {
		return fmt.Errorf("%s:%w", args[0], err)
	}
	var wrong []error
	proven, optimal := 0, 0
	for _, i := range instances {
		r := openstacks.Sequence(context.Background(), i.needs, nil)
		if _, err := fmt.Fprintln(out, i.name, r.Open, i.optimum); err != nil {
			return err
		}
		wrong = append(wrong, i.judge(r))
		if r.Open == i.optimum {
			optimal++
		}
		if r.Exact {
			proven++
		}
	}
	fmt.Fprintf(told, "%d instances, %d at the optimum, %d proven\n", len(instances), optimal,
		proven)
	return errors.Join(wrong...)
}

type instance struct {
	name    string
	needs   [][]bool
	optimum int
}

// judge says what is wrong with a result.
func (i *instance) judge(r openstacks.Result) error {
	switch counted := openstacks.Open(i.needs, r.Order()); {
	case counted != r.Open:
		return fmt.Errorf("%s: %d customers are open, not %d", i.name, counted, r.Open)
	case r.Open < i.optimum:
		return fmt.Errorf("%s: %d is below the optimum", i.name, r.Open)
	case r.Open > i.optimum && (r.Exact || len(i.needs) <= 20):
		return fmt.Errorf("%s: %d misses the optimum", i.name, r.Open)
	}
	return nil
}

// read takes all instances of a file. An error begins with the line.
func read(text string) (out []instance, err error) {
	rows := 0
	for n, line := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		if rows == 0 {
			var i instance
			i, err = head(line)
			out = append(out, i)
			rows = len(i.needs)
		} else {
			i := out[len(out)-1]
			err = fill(i.needs[len(i.needs)-rows], line)
			rows--
		}
		if err != nil {
			return nil, fmt.Errorf("%d: %w", n+1, err)
		}
	}
	if rows > 0 {
		return nil, fmt.Errorf(" the last instance has %d lines too few", rows)
	}
	return out, nil
}

// head reads the line that an instance begins with.
func head(line string) (i instance, err error) {
	f := strings.Fields(line)
	if len(f) != 5 {
		return i, errors.New("five fields are wanted: name customers products optimum source")
	}
	var numbers [3]int
	for n := range numbers {
		if numbers[n], err = strconv.Atoi(f[1+n]); err != nil || numbers[n] < 1 {
			return i, fmt.Errorf("%q is no count", f[1+n])
		}
	}
	i = instance{name: f[0], optimum: numbers[2]}
	for range numbers[0] {
		i.needs = append(i.needs, make([]bool, numbers[1]))
	}
	return i, nil
}

// fill reads the line of a customer.
func fill(row []bool, line string) error {
	f := strings.Fields(line)
	if len(f) != len(row) {
		return fmt.Errorf("%d products are wanted, not %d", len(row), len(f))
	}
	for p, digit := range f {
		if digit != "0" && digit != "1" {
			return fmt.Errorf("%q is neither 0 nor 1", digit)
		}
		row[p] = digit == "1"
	}
	return nil
}
