package model

import (
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

// MarshalJSON writes [least, most], most null for any number.
func (b UseBound) MarshalJSON() ([]byte, error) { return json.Marshal([2]*int64{&b.Least, b.Most}) }

// UnmarshalJSON reads [least, most].
func (b *UseBound) UnmarshalJSON(data []byte) error {
	var two []*int64
	if err := json.Unmarshal(data, &two); err != nil || len(two) != 2 || two[0] == nil {
		return fmt.Errorf("%.40s is no pair of bounds; write [least, most], most null for any number", data)
	}
	*b = UseBound{*two[0], two[1]}
	return nil
}
