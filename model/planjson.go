package model

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
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

// certNode is a [CertNode] as it is written: a split or a leaf, with nothing of the other.
type certNode struct {
	Stock  *int          `json:"stock,omitempty"`
	Pieces map[int]int64 `json:"pieces,omitempty"`
	Least  *int64        `json:"least,omitempty"`
	Below  *certNode     `json:"below,omitempty"`
	From   *certNode     `json:"from,omitempty"`
	Duals  *[]int64      `json:"duals,omitempty"`
	Extra  *[]int64      `json:"extra,omitempty"`
}

// MarshalJSON writes {stock, pieces, least, below, from} or {duals, extra}.
func (n *CertNode) MarshalJSON() ([]byte, error) {
	w, err := n.written(0)
	if err != nil {
		return nil, err
	}
	return json.Marshal(w)
}

func (n *CertNode) written(depth int) (*certNode, error) {
	if depth > maxDepth {
		return nil, fmt.Errorf("a tree is more than %d splits deep", maxDepth)
	}
	if n.Below == nil && n.From == nil {
		duals, extra := append([]int64{}, n.Duals...), append([]int64{}, n.Extra...)
		return &certNode{Duals: &duals, Extra: &extra}, nil
	}
	if n.Below == nil || n.From == nil {
		return nil, fmt.Errorf("a split of a tree has one branch")
	}
	below, err := n.Below.written(depth + 1)
	if err != nil {
		return nil, err
	}
	from, err := n.From.written(depth + 1)
	return &certNode{Stock: &n.Stock, Pieces: n.Pieces, Least: &n.Least, Below: below, From: from}, err
}

// UnmarshalJSON reads what MarshalJSON writes and nothing else.
func (n *CertNode) UnmarshalJSON(data []byte) error {
	var w certNode
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	err := d.Decode(&w)
	if kind := (*json.UnmarshalTypeError)(nil); errors.As(err, &kind) {
		return fmt.Errorf("a tree of a leaf holds a %s, which does not belong there", kind.Value)
	}
	if err != nil {
		return fmt.Errorf("a tree of a leaf: %s", strings.TrimPrefix(err.Error(), "json: "))
	}
	left := maxLeaves
	return w.read(n, 0, &left)
}

func (w *certNode) read(n *CertNode, depth int, left *int) error {
	split := w.Stock != nil && w.Least != nil && w.Below != nil && w.From != nil && w.Duals == nil && w.Extra == nil
	leaf := w.Stock == nil && w.Least == nil && w.Below == nil && w.From == nil && w.Pieces == nil && w.Duals != nil && w.Extra != nil
	switch {
	case depth > maxDepth:
		return fmt.Errorf("a tree is more than %d splits deep", maxDepth)
	case leaf:
		if *left--; *left < 0 {
			return fmt.Errorf("a tree has more than %d leaves", maxLeaves)
		}
		*n = CertNode{Duals: *w.Duals, Extra: *w.Extra}
		return nil
	case !split:
		return fmt.Errorf("a node of a tree is neither a split {stock, pieces, least, below, from} nor a leaf {duals, extra}")
	}
	*n = CertNode{Stock: *w.Stock, Pieces: w.Pieces, Least: *w.Least, Below: new(CertNode), From: new(CertNode)}
	if err := w.Below.read(n.Below, depth+1, left); err != nil {
		return err
	}
	return w.From.read(n.From, depth+1, left)
}
