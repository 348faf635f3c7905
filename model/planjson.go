package model

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// MarshalText writes a face by its name.
func (f Face) MarshalText() ([]byte, error) {
	if f < 0 || f >= Faces {
		return nil, fmt.Errorf("face %d is not known", int(f))
	}
	return []byte(f.String()), nil
}

// UnmarshalText reads a face by its name.
func (f *Face) UnmarshalText(b []byte) error {
	known, ok := ParseFace(string(b))
	if !ok {
		return fmt.Errorf("%q is no face; write show, sound or hidden", b)
	}
	*f = known
	return nil
}

// UnmarshalJSON reads {den, rows} and nothing else; a row is a pair.
func (c *CertCut) UnmarshalJSON(data []byte) error {
	var w struct {
		Den  int64     `json:"den"`
		Rows [][]int64 `json:"rows"`
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&w); err != nil || w.Rows == nil || bytes.Contains(data, []byte("null")) {
		return fmt.Errorf("%.40s is no cut; write {den, rows: [[row, multiplier], ...]}", data)
	}
	*c = CertCut{w.Den, make([][2]int64, len(w.Rows))}
	for k, r := range w.Rows {
		if len(r) != 2 {
			return fmt.Errorf("row %d of a cut has %d numbers; write [row, multiplier]", k, len(r))
		}
		c.Rows[k] = [2]int64(r)
	}
	return nil
}
