package planfile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"regexp"
	"strings"
	"unicode"

	"rackwright/io/textfile"
	"rackwright/model"
	"rackwright/model/makeup"
)

const fileName = "plan.json" // what errors call the file

// Read reads a plan as [Write] wrote it: the job whose parts are those that are cut, and the plan
// with Value, Bound, Made, Shortages, Groups, Placements and Work. It refuses unknown and double
// fields, missing ones of the top level, and anything after the end; and a job that could not have
// been read from files.
// Whether the plan is true is for package check to say.
func Read(r io.Reader) (*model.Job, *model.Plan, error) {
	data, refused := textfile.Read(r, fileName, maxBytes)
	if refused == nil {
		data, refused = textfile.Text(data, fileName)
	}
	if refused == nil {
		refused = textfile.NotUTF8(data, fileName)
	}
	if refused != nil {
		return nil, nil, model.InputErrors{refused}
	}
	var m model.Mistakes
	var doc document
	if e := decode(data, &doc); e != nil {
		m.Add(e)
		return nil, nil, m.Err()
	}
	job := doc.Job.job()
	plan := &model.Plan{Date: doc.Date, Value: doc.Value, Bound: doc.Bound,
		Shortages: doc.Shortages, Groups: doc.Groups, Placements: doc.Placements,
		Work: doc.Work, Revision: doc.Revision, Made: doc.Made}
	if doc.Revision != nil {
		job.Settings.Change = doc.Revision.Change
	}
	m.AddAll(fileName, inside(job))
	judge(&m, &doc)
	if err := m.Err(); err != nil {
		return nil, nil, err
	}
	return makeup.AsMade(makeup.Prepare(job), plan.Made), plan, nil
}

// inside judges the job in the plan. What is wrong there is wrong in this file, whatever the files
// of the job now say.
func inside(job *model.Job) error {
	var m, ours model.Mistakes
	job.Validate(&m)
	if all, ok := m.Err().(model.InputErrors); ok {
		for _, e := range all {
			// names of files may be anything here
			cause := strings.Map(printable, strings.TrimSuffix(e.Error(), "; "+e.Remedy))
			ours.Add(wrong(0, "in the job that lies in it, "+cause))
		}
	}
	for _, c := range job.Commissions {
		if c.Due != "" && !model.ValidDate(c.Due) {
			ours.Add(wrong(0, fmt.Sprintf(
				"in the job that lies in it, the due date of %q is %q, which is no date", c.Name,
				c.Due)))
		}
	}
	return ours.Err()
}

func printable(r rune) rune {
	if unicode.IsControl(r) {
		return -1
	}
	return r
}

func wrong(line int, cause string) *model.InputError {
	cause = fmt.Sprintf("%.500s", strings.Map(func(r rune) rune { // it may quote the file
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, cause))
	return &model.InputError{Code: model.CodePlan, File: fileName, Line: line, Cause: cause,
		Remedy: "plan the job anew; this file is not meant to be edited"}
}

func decode(data []byte, doc *document) *model.InputError {
	line := func(offset int64) int {
		return bytes.Count(data[:max(0, min(offset, int64(len(data))))], []byte("\n")) + 1
	}
	top, twice, at := scan(data)
	if twice != "" {
		return wrong(line(at), fmt.Sprintf("field %q stands twice", twice))
	}
	if e := ofOtherVersion(data); e != nil {
		return e
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(doc); err != nil {
		at = d.InputOffset()
		if s := (*json.SyntaxError)(nil); errors.As(err, &s) {
			at = s.Offset
		}
		if t := (*json.UnmarshalTypeError)(nil); errors.As(err, &t) {
			// what is embedded is no field of the file
			field := strings.ReplaceAll(t.Field, reflect.TypeFor[model.CertListNode]().Name()+".", "")
			return wrong(line(t.Offset),
				fmt.Sprintf("%s holds a %s, which does not belong there", field, t.Value))
		}
		return wrong(line(at), "it cannot be read ("+plainWords(err)+")")
	}
	if _, err := d.Token(); err != io.EOF {
		return wrong(line(d.InputOffset()), "something follows the end of the plan")
	}
	for t, i := reflect.TypeFor[document](), 0; i < t.NumField(); i++ {
		if key := t.Field(i).Tag.Get("json"); !top[key] && !strings.Contains(key, ",") {
			return wrong(0, fmt.Sprintf("field %q is missing", key))
		}
	}
	return nil
}

// ofOtherVersion refuses a plan of another version by that alone: what else is wrong there by
// today's rules says nothing.
func ofOtherVersion(data []byte) *model.InputError {
	var top struct {
		Format  string
		Version *int
	}
	if json.Unmarshal(data, &top) != nil || top.Format != Format || top.Version == nil ||
		*top.Version >= Version && *top.Version <= MadeVersion {
		return nil // the strict reading says what is wrong
	}
	olds := map[int]string{1: "knew no rips", 2: "rounded rack values otherwise",
		3: "knew no order of work", 4: "proved bounds otherwise", 5: "proved bounds otherwise"}
	if old, known := olds[*top.Version]; known {
		return wrong(0, fmt.Sprintf(
			"it is of version %d, by a program that %s; this program reads versions %d to %d",
			*top.Version, old, Version, MadeVersion))
	}
	return wrong(0, fmt.Sprintf("version %d is not known, this program reads versions %d to %d",
		*top.Version, Version, MadeVersion))
}

var goWords = regexp.MustCompile(`\bGo\b|\breflect\b`)

func plainWords(err error) string {
	s := strings.TrimPrefix(err.Error(), "json: ")
	if goWords.MatchString(s) {
		return "a value of the wrong kind"
	}
	return s
}

// scan lists the keys of the top level. It also finds the first key that stands twice in one
// object, case apart, and the place after it: the decoder would take the last one in silence.
// Broken JSON is left for the decoder to report.
func scan(data []byte) (top map[string]bool, twice string, at int64) {
	top = map[string]bool{}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var open []map[string]bool // keys met in each open object, nil for a list
	key := false               // whether a key comes next
	inObject := func() bool { return len(open) > 0 && open[len(open)-1] != nil }
	for {
		t, err := d.Token()
		if err != nil {
			return top, "", 0
		}
		word, isWord := t.(string)
		switch {
		case isWord && key:
			met, fold := open[len(open)-1], strings.ToLower(word)
			if met[fold] {
				return top, word, d.InputOffset()
			}
			met[fold], key = true, false
			if len(open) == 1 {
				top[word] = true
			}
			continue
		case t == json.Delim('{'):
			open = append(open, map[string]bool{})
		case t == json.Delim('['):
			open = append(open, nil)
		case t == json.Delim('}') || t == json.Delim(']'):
			open = open[:len(open)-1]
		}
		key = inObject()
	}
}
