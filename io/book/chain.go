package book

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
)

// entry is an event as it is stored, whatever its text may be.
type entry struct {
	number           int64
	date, kind, says string
	hash             string // in lower hex
}

// sum is the hash that an event must have after one with the hash before; the first one has none
// before. No part but what it says, the last, may have line ends in it, so nothing can be shifted
// from one part into another.
func (n *entry) sum(before string) string {
	text := fmt.Sprintf("%s\n%d\n%s\n%s\n%s", before, n.number, n.date, n.kind, n.says)
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// event reads an entry that stands behind another, given that one's number and hash. What is wrong
// is a [Broken].
func (n *entry) event(before int64, hash string) (Event, error) {
	broken := func(why string) (Event, error) { return Event{}, &Broken{n.number, why} }
	switch {
	case n.number != before+1:
		return Event{}, &Broken{before + 1, fmt.Sprintf("it is missing: event %d follows event %d",
			n.number, before)}
	case n.hash != n.sum(hash):
		return broken("its hash is not that of what stands there and of the event before")
	}
	e := Event{Number: n.number, Date: n.date, Kind: Kind(n.kind)}
	if err := e.decode(n.says); err != nil {
		return broken("it cannot be read: " + err.Error())
	}
	return e, nil
}

// Broken says of an event that it cannot be relied upon, nor any after it.
type Broken struct {
	Number int64
	Why    string
}

func (b *Broken) Error() string { return fmt.Sprintf("event %d: %s", b.Number, b.Why) }
