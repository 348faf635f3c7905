package settings

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"rackwright/io/textfile"
	"rackwright/model"
)

const maxBytes = 256 << 10

// Read reads shop.toml; name is what errors call it. Keys left out have the values of
// [model.DefaultSettingsIn] for its units. The error is [model.InputErrors] with all mistakes; the
// settings are then not to be planned with, but their units are right where they could be read.
func Read(r io.Reader, name string) (model.Settings, error) {
	rd := &reader{file: name, set: model.DefaultSettings(), lines: map[string]int{}}
	if doc := rd.parse(r); doc != nil {
		rd.settings(doc)
	}
	return rd.set, rd.m.Err()
}

type reader struct {
	file  string
	set   model.Settings
	lines map[string]int // by the key as shown
	m     model.Mistakes
}

func (r *reader) wrong(code, key, cause, remedy string) {
	r.m.Add(&model.InputError{Code: code, File: r.file, Line: r.line(key),
		Column: fmt.Sprintf("%.200s", key), Cause: cause, Remedy: remedy})
}

// line finds the line of a key, or of the table or inline table that it stands in.
func (r *reader) line(key string) int {
	for key != "" {
		if n, ok := r.lines[key]; ok {
			return n
		}
		key = key[:max(0, strings.LastIndexByte(key, '.'))]
	}
	return 0
}

// parse reads the whole file into nested tables and notes the line of every key; nil where it
// cannot be read.
func (r *reader) parse(in io.Reader) map[string]any {
	data, refused := textfile.Read(in, r.file, maxBytes)
	if refused == nil {
		data, refused = textfile.Text(data, r.file)
	}
	if refused == nil {
		refused = textfile.NotUTF8(data, r.file)
	}
	if refused != nil {
		r.m.Add(refused)
		return nil
	}
	doc := map[string]any{}
	if err := toml.Unmarshal(data, &doc); err != nil {
		line, cause := 0, "this cannot be read"
		var at *toml.DecodeError
		if errors.As(err, &at) {
			line, _ = at.Position()
			// Its message is about signs of the file, unless it speaks of Go or is no line of text:
			// then the position must do.
			if s := strings.TrimPrefix(at.Error(), "toml: "); !goWords.MatchString(s) &&
				!strings.ContainsFunc(s, unicode.IsControl) {
				cause += " (" + s + ")"
			}
		}
		if line == 0 { // a key twice: the error does not say where, the walk over the lines does
			if key := r.findLines(data); key != "" {
				r.wrong(model.CodeDuplicate, key, "the key stands twice in the file",
					"take one out")
				return nil
			}
		}
		r.m.Add(&model.InputError{Code: model.CodeSyntax, File: r.file, Line: line, Cause: cause,
			Remedy: `write one key a line, lengths in quotes, such as crosscut = "1/8", and no ` +
				`key or table twice`})
		return nil
	}
	r.findLines(data)
	return doc
}

var goWords = regexp.MustCompile(
	`(?i)\b(go|strconv|struct|map|interface|slice|float64|int64|reflect|unmarshal|decode|store)\b`)

// findLines notes the line of every key. It stops at a key or table that stands twice, or stands as
// a value and as a table. It gives the name of such a one, and notes its second line.
func (r *reader) findLines(data []byte) (twice string) {
	f := finder{data: data, lines: r.lines, met: map[string]unstable.Kind{}}
	var p unstable.Parser
	p.Reset(data)
	var table []string
	for p.NextExpression() && f.twice == "" {
		switch e := p.Expression(); e.Kind {
		case unstable.KeyValue:
			f.pair(table, e)
		case unstable.Table, unstable.ArrayTable:
			table = f.key(nil, e)
		}
	}
	return f.twice
}

// finder walks over the keys of a file up to the first that stands twice.
type finder struct {
	data  []byte
	lines map[string]int           // by the key as shown
	met   map[string]unstable.Kind // what stands in the file already, by the key as shown
	twice string
}

// a table that stands in the file only as part of a key such as kerf.rip
const dotted = unstable.Invalid

// key notes a key, or the name of a table, and gives its whole path.
func (f *finder) key(table []string, e *unstable.Node) []string {
	path := slices.Clone(table)
	for it := e.Key(); it.Next(); {
		path = append(path, string(it.Node().Data))
		k := shown(path)
		if f.lines[k] == 0 {
			f.lines[k] = bytes.Count(f.data[:it.Node().Raw.Offset], []byte("\n")) + 1
		}
		kind, again := f.met[k]
		last := it.IsLast()
		if again && (last && (kind != e.Kind || kind != unstable.ArrayTable) || !last &&
			(kind == unstable.KeyValue || kind != dotted && e.Kind == unstable.KeyValue)) {
			f.lines[k], f.twice = bytes.Count(f.data[:it.Node().Raw.Offset], []byte("\n"))+1, k
			return path
		}
		if last {
			f.met[k] = e.Kind
		} else if !again && e.Kind == unstable.KeyValue {
			f.met[k] = dotted
		}
	}
	return path
}

// pair notes a key of a table, and those of the tables in its value.
func (f *finder) pair(table []string, e *unstable.Node) {
	if path := f.key(table, e); f.twice == "" {
		f.value(path, e.Value())
	}
}

func (f *finder) value(path []string, v *unstable.Node) {
	n := 0
	for it := v.Children(); it.Next() && f.twice == ""; n++ {
		switch v.Kind {
		case unstable.InlineTable:
			f.pair(path, it.Node())
		case unstable.Array:
			f.value(append(slices.Clone(path), strconv.Itoa(n)), it.Node())
		}
	}
}

var bareKey = regexp.MustCompile(`^[A-Za-z0-9_-]+$`)

// namesTables are the tables below which tables of the maker's own names stand.
var namesTables = []string{"bins", "material", "section", "yards"}

// shown writes a key as the file does: names of materials, sections, yards and bins in quotes.
func shown(path []string) string {
	out := make([]string, len(path))
	for i, k := range path {
		out[i] = k
		if named := i == 1 && slices.Contains(namesTables, path[0]); named ||
			!bareKey.MatchString(k) {
			out[i] = fmt.Sprintf("%q", k)
		}
	}
	return strings.Join(out, ".")
}

// settings takes over every key of the file, then has the limits judged.
func (r *reader) settings(doc map[string]any) {
	if u, ok := doc["units"].(string); ok && (u == "in" || u == "mm") {
		r.set = model.DefaultSettingsIn(model.Unit(u))
	}
	keys := shopKeys(&r.set)
	for _, name := range slices.Sorted(maps.Keys(doc)) {
		switch name {
		case "material":
			r.set.Materials = map[string]model.Override{}
			r.named(name, ".offcut", doc[name],
				func(name string, _ int) (map[string]setter, func()) {
					var o model.Override
					return overrideKeys(&o, true), func() { r.set.Materials[name] = o }
				})
		case "section":
			r.set.Sections = map[model.Section]model.Override{}
			r.named(name, ".offcut", doc[name],
				func(name string, _ int) (map[string]setter, func()) {
					var o model.Override
					return overrideKeys(&o, false), func() {
						r.set.Sections[model.Section(name)] = o
					}
				})
		case "yards":
			r.set.Yards = map[string]model.YardFacts{}
			r.named(name, "", doc[name], func(name string, line int) (map[string]setter, func()) {
				y := model.YardFacts{Where: model.Where{File: r.file, Line: line}}
				return yardKeys(&y), func() { r.set.Yards[name] = y }
			})
		case "bins":
			r.set.Bins = map[string]model.BinFacts{}
			r.named(name, "", doc[name], func(name string, _ int) (map[string]setter, func()) {
				var b model.BinFacts
				return binKeys(&b), func() { r.set.Bins[name] = b }
			})
		default:
			r.walk([]string{name}, name, doc[name], keys)
		}
	}
	var limits model.Mistakes
	r.set.Validate(&limits)
	if out, bad := limits.Err().(model.InputErrors); bad {
		for _, e := range out {
			r.wrong(e.Code, e.Column, e.Cause, e.Remedy)
		}
	}
}

// named takes over the tables of single materials, sections, yards or bins: one gives the keys of a
// name and keeps what they set. Such is how the name of a table goes on.
func (r *reader) named(kind, such string, v any,
	one func(name string, line int) (keys map[string]setter, keep func())) {
	tables, ok := v.(map[string]any)
	if !ok {
		r.wrong(model.CodeSetting, kind, "a name is missing",
			fmt.Sprintf("write a table such as [%s.\"name\"%s]", kind, such))
		return
	}
	names := slices.Sorted(maps.Keys(tables))
	slices.SortStableFunc(names, func(a, b string) int {
		return r.line(shown([]string{kind, a})) - r.line(shown([]string{kind, b}))
	})
	from := map[string]string{}
	for _, written := range names {
		path := []string{kind, written}
		name := strings.TrimSpace(written)
		if kind == "section" {
			s, err := model.ParseSection(written)
			if err != nil {
				cause, remedy := model.SplitRemedy(err)
				r.wrong(model.CodeSection, shown(path), cause, remedy)
				continue
			}
			name = string(s)
		}
		if other, again := from[model.FoldName(name)]; again || name == "" {
			r.wrong(model.CodeDuplicate, shown(path),
				fmt.Sprintf("this %s is the same as %.100q, or has no name", kind, other),
				"put both into one table")
			continue
		}
		from[model.FoldName(name)] = written
		table, ok := tables[written].(map[string]any)
		if !ok {
			r.wrong(model.CodeSetting, shown(path), "this is no table",
				fmt.Sprintf("write a table such as [%s%s]", shown(path), such))
			continue
		}
		keys, keep := one(name, r.line(shown(path)))
		for _, k := range slices.Sorted(maps.Keys(table)) {
			r.walk(append(path, k), k, table[k], keys)
		}
		for k, line := range r.lines { // limits are judged under the plain name
			if rest, ok := strings.CutPrefix(k, shown(path)+"."); ok && name != written {
				r.lines[shown([]string{kind, name})+"."+rest] = line
			}
		}
		keep()
	}
}

// walk takes over one key, or all keys of one table. Path is where it stands in the file, rel its
// name in keys.
func (r *reader) walk(path []string, rel string, v any, keys map[string]setter) {
	if set, ok := keys[rel]; ok {
		if err := set(v, r.set.Units); err != nil {
			cause, remedy := model.SplitRemedy(err)
			r.wrong(model.CodeSetting, shown(path), cause, remedy)
		}
		return
	}
	known := slices.Sorted(maps.Keys(keys))
	inside := func(k string) bool { return strings.HasPrefix(k, rel+".") }
	if !slices.ContainsFunc(known, inside) {
		r.wrong(model.CodeUnknownKey, shown(path), "there is no such key",
			"the nearest known one is "+nearest(rel, v, known))
		return
	}
	table, ok := v.(map[string]any)
	if !ok {
		r.wrong(model.CodeSetting, shown(path), "this is a table",
			fmt.Sprintf("write [%s] and below it its keys, such as %s", shown(path),
				known[slices.IndexFunc(known, inside)]))
		return
	}
	for _, k := range slices.Sorted(maps.Keys(table)) {
		r.walk(append(slices.Clone(path), k), rel+"."+k, table[k], keys)
	}
}

// nearest gives the known key or table most like rel, a table for a table; the same key in another
// table, or above all, comes first.
func nearest(rel string, v any, known []string) string {
	last := rel[strings.LastIndexByte(rel, '.')+1:]
	for _, k := range known {
		if k == last {
			return k + ", which stands before all tables"
		}
		if strings.HasSuffix(k, "."+last) {
			return k
		}
	}
	all := slices.Clone(known)
	if _, isTable := v.(map[string]any); isTable {
		all = nil
	}
	for _, k := range known {
		if table, _, ok := strings.Cut(k, "."); ok {
			all = append(all, table)
		}
	}
	if slices.Contains(known, "units") { // at the top
		all = append(all, namesTables...)
	}
	if len(all) == 0 { // a table where there are only keys
		all = known
	}
	return model.Nearest(rel, all)
}
