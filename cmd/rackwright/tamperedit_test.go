package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"rackwright/io/folder"
	"rackwright/io/planfile"
	"rackwright/model"
)

// edit changes files; it fails where there is nothing to change.
type edit func(t *testing.T, f files)

func all(e ...edit) []edit { return e }

// alone has the plan judged by the job that lies in it, without the job's files.
func alone(_ *testing.T, f files) { f["alone"] = "" }

// cell changes a cell of an out table, in the first row that has some text in a column
// ("kind=part"). A text that begins with a sign is added.
func cell(table, where, column, to string) edit {
	return row(table, where, func(header, row []string) [][]string {
		i := slices.Index(header, column)
		row[i] = moved(row[i], to)
		return [][]string{row}
	})
}

func drop(table, where string) edit {
	return row(table, where, func(_, _ []string) [][]string { return nil })
}

// double puts another row like it after a row, but for one cell.
func double(table, where, column, to string) edit {
	return row(table, where, func(header, row []string) [][]string {
		other := slices.Clone(row)
		other[slices.Index(header, column)] = to
		return [][]string{row, other}
	})
}

func row(table, where string, change func(header, row []string) [][]string) edit {
	return func(t *testing.T, f files) {
		t.Helper()
		name := "out/" + table + ".csv"
		rows := readTable(t, f[name])
		column, text, _ := strings.Cut(where, "=")
		at := slices.Index(rows[0], column)
		i := slices.IndexFunc(rows, func(row []string) bool { return row[at] == text })
		if i < 0 {
			t.Fatalf("%s has no row with %s", name, where)
		}
		f[name] = writeTable(t, slices.Replace(rows, i, i+1, change(rows[0], rows[i])...))
	}
}

// leaf changes a value of plan.json: to other JSON, or by an amount that begins with a sign; to
// nothing: it is taken out of its list.
func leaf(path, to string) edit {
	return tree(func(t *testing.T, top any) {
		at, set := top, func(any) {}
		for _, key := range strings.FieldsFunc(path, func(r rune) bool {
			return strings.ContainsRune(".[]", r)
		}) {
			in, isObject := at.(map[string]any)
			list, _ := at.([]any)
			i, err := strconv.Atoi(key)
			if _, there := in[key]; !there && (isObject || err != nil || i >= len(list)) {
				t.Fatalf("plan.json has no %s", path)
			}
			if isObject {
				at, set = in[key], func(v any) { in[key] = v }
				continue
			}
			outer := set
			at, set = list[i], func(v any) {
				if list[i] = v; to == "" {
					outer(slices.Delete(list, i, i+1))
				}
			}
		}
		if old, isNumber := at.(json.Number); isNumber {
			to = moved(old.String(), to)
		}
		var v any
		if to != "" {
			v = decodeTree(t, to)
		}
		set(v)
	})
}

func tree(change func(t *testing.T, top any)) edit {
	return func(t *testing.T, f files) {
		t.Helper()
		top := decodeTree(t, f["out/plan.json"])
		change(t, top)
		f["out/plan.json"] = encodeTree(t, top)
	}
}

// closeGap claims that a group was proven.
func closeGap(t *testing.T, top any) {
	of := top.(map[string]any)
	group := of["groups"].([]any)[0].(map[string]any)
	of["bound"], group["bound"], group["proof"], group["ended"] = of["value"], group["value"],
		"optimal", "finished"
}

// text changes a file of the job in one place.
func text(name, old, to string) edit {
	return func(t *testing.T, f files) {
		t.Helper()
		if strings.Count(f[name], old) != 1 {
			t.Fatalf("%s: %q does not stand there once", name, old)
		}
		f[name] = strings.Replace(f[name], old, to, 1)
	}
}

// rehash writes the hashes of the job's files into plan.json.
func rehash(t *testing.T, f files) {
	tree(func(t *testing.T, top any) {
		for _, in := range top.(map[string]any)["job"].(map[string]any)["inputs"].([]any) {
			in := in.(map[string]any)
			sum := sha256.Sum256([]byte(f[in["name"].(string)]))
			in["sha256"] = hex.EncodeToString(sum[:])
		}
	})(t, f)
}

// takeIn writes the job as its files now have it into plan.json, with their hashes: the plan is
// then said to be one of that job.
func takeIn(t *testing.T, f files) {
	job, err := f.job()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := planfile.Write(&b, job, &model.Plan{}); err != nil {
		t.Fatal(err)
	}
	tree(func(t *testing.T, top any) {
		top.(map[string]any)["job"] = decodeTree(t, b.String()).(map[string]any)["job"]
	})(t, f)
}

// job reads the job in some files.
func (f files) job() (*model.Job, error) {
	in := fstest.MapFS{}
	for name, text := range f {
		if !strings.HasPrefix(name, "out/") {
			in[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	job, _, err := folder.ReadJob(in)
	return job, err
}

// moved is a text, or a number moved by what begins with a sign.
func moved(old, to string) string {
	by, isNumber := new(big.Rat).SetString(to)
	if !isNumber || !strings.ContainsAny(to[:1], "+-") {
		return strings.TrimSpace(to)
	}
	from, isNumber := new(big.Rat).SetString(old)
	if !isNumber {
		return to
	}
	sum := from.Add(from, by).FloatString(6)
	return strings.TrimSuffix(strings.TrimRight(sum, "0"), ".")
}

// plain makes lengths as people read them comparable with what is written here.
var plain = strings.NewReplacer("\u00a0", " ")

func readTable(t *testing.T, text string) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func writeTable(t *testing.T, rows [][]string) string {
	t.Helper()
	var b bytes.Buffer
	if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func decodeTree(t *testing.T, text string) (tree any) {
	t.Helper()
	d := json.NewDecoder(strings.NewReader(text))
	d.UseNumber()
	if err := d.Decode(&tree); err != nil {
		t.Fatal(err)
	}
	return tree
}

func encodeTree(t *testing.T, tree any) string {
	t.Helper()
	b, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
