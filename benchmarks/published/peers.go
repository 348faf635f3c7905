package main

import (
	"compress/gzip"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// peers are what others have published of the same classes.
type peers struct {
	runs   map[string]run     // by instance
	counts map[string][]count // by class
}

// run is one of V. L. da Silva, R. C. S. Schouery, 2025: 600 s for an instance.
type run struct {
	optimal bool
	seconds float64
}

// count is how many of a whole class a paper solves.
type count struct {
	paper, instances, solved, mean, limit string
}

// peersIn reads results/ of a folder. Files that are not there say nothing, and so do counts that
// nobody has checked.
func peersIn(data string) peers {
	p := peers{map[string]run{}, map[string][]count{}}
	for _, r := range rowsOf(filepath.Join(data, "results",
		"dasilva_schouery_10min_per_instance.csv.gz")) {
		if len(r) == 9 {
			seconds, _ := strconv.ParseFloat(r[8], 64)
			p.runs[r[0]] = run{r[6] == "Optimal", seconds}
		}
	}
	for _, r := range rowsOf(filepath.Join(data, "results", "ai_ani_published.csv")) {
		if len(r) == 9 && strings.HasPrefix(r[8], "computed") {
			class := strings.ToLower(r[2]) + "_" + r[3]
			p.counts[class] = append(p.counts[class], count{r[1], r[4], r[5], r[6], r[7]})
		}
	}
	return p
}

// rowsOf reads a table of commas, none where it cannot be read.
func rowsOf(path string) [][]string {
	f, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer f.Close()
	in := io.Reader(f)
	if strings.HasSuffix(path, ".gz") {
		if in, err = gzip.NewReader(f); err != nil {
			return nil
		}
	}
	table := csv.NewReader(in)
	table.FieldsPerRecord = -1
	rows, err := table.ReadAll()
	if err != nil {
		return nil
	}
	return rows
}

// same says how the run of peers went on the same instances.
func (p *peers) same(c *class) string {
	known, optimal, sum, slowest := 0, 0, 0.0, 0.0
	for _, i := range c.some {
		r, ok := p.runs[i.name]
		if !ok {
			continue
		}
		known++
		if r.optimal {
			optimal++
		}
		sum += r.seconds
		slowest = max(slowest, r.seconds)
	}
	if known == 0 {
		return ""
	}
	return fmt.Sprintf("%d of %d, %.2f s, %.1f s", optimal, known, sum/float64(known), slowest)
}

// others says what other papers have of the whole class.
func (p *peers) others(c *class) string {
	var out []string
	for _, o := range p.counts[c.name] {
		if len(p.runs) == 0 || !strings.Contains(o.paper, "2023.0399") { // that is same
			out = append(out, fmt.Sprintf("%s: %s of %s, %s s of %s", o.paper, o.solved,
				o.instances, o.mean, o.limit))
		}
	}
	return strings.Join(out, "; ")
}
