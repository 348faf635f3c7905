package book

import (
	"encoding/hex"
	"encoding/json"
	"fmt"
	"path"
	"strings"

	"rackwright/model"
)

// What events say of plans.

// Booking is what a plan asks of the shop once it is booked.
type Booking struct {
	Hash  string `json:"hash"`  // SHA-256 of plan.json, in lower hex
	Files string `json:"files"` // of all files kept with it: [Files.Hash]
	// the booked plan whose place it takes, as an earlier revision, by its folder; or empty
	Of      string     `json:"of,omitempty"`
	Uses    []string   `json:"uses,omitempty"`    // boards of the rack, in the order of the cuts
	Buys    []Purchase `json:"buys,omitempty"`    // boards that are to come, in that order
	Offcuts []string   `json:"offcuts,omitempty"` // ids that its offcuts will have
}

// Purchase is a board that a plan buys.
type Purchase struct {
	Board model.Board // as the plan has it, with its id
	Yard  string
	Grade string
	Price model.Money // before tax
	// its row of the yard is of this one board; another row that is alike in all but the price may
	// be of the same board
	Single bool
}

// BoardCut is what became of a board that was cut. Parts, Spoiled, Kerf, Trim and Waste are areas
// in units of length, squared. With those of its offcuts, and of what is left of it under its own
// id, they sum to its area. Only Waste may be below 0, where more is left than there could be by
// the plan's measures.
type BoardCut struct {
	Board   string   `json:"board"`
	Pieces  []Piece  `json:"pieces,omitempty"`
	Offcuts []string `json:"offcuts,omitempty"` // ids of those that are kept
	Parts   int64    `json:"parts"`
	Spoiled int64    `json:"spoiled"`
	Kerf    int64    `json:"kerf"`
	Trim    int64    `json:"trim"`
	Waste   int64    `json:"waste"`
}

// Piece is a blank that was cut.
type Piece struct {
	Commission string       `json:"commission"`
	Part       string       `json:"part"`
	Copy       int64        `json:"copy"`
	Length     model.Length `json:"length"`
	Width      model.Length `json:"width"`
	Spoiled    bool         `json:"spoiled,omitempty"`
}

// purchase is the JSON of a [Purchase].
type purchase struct {
	Board  *board      `json:"board"`
	Yard   string      `json:"yard,omitempty"`
	Grade  string      `json:"grade,omitempty"`
	Price  model.Money `json:"price"`
	Single bool        `json:"single,omitempty"`
}

// MarshalJSON writes a purchase, its board without the place of its row.
func (p Purchase) MarshalJSON() ([]byte, error) {
	return json.Marshal(purchase{sheet(&p.Board), p.Yard, p.Grade, p.Price, p.Single})
}

// UnmarshalJSON reads a purchase.
func (p *Purchase) UnmarshalJSON(data []byte) error {
	var is purchase
	if err := strict(string(data), &is); err != nil {
		return err
	}
	if is.Board == nil {
		return fmt.Errorf("a board that is bought is missing")
	}
	*p = Purchase{is.Board.Board, is.Yard, is.Grade, is.Price, is.Single}
	return nil
}

// Alike says whether two rows of the yard may be of the same board: whatever it cost.
func (p *Purchase) Alike(o *Purchase) bool {
	is, other := p.Board.Wood, o.Board.Wood
	is.Material, other.Material = model.FoldName(is.Material), model.FoldName(other.Material)
	return is == other && model.FoldName(p.Yard) == model.FoldName(o.Yard) &&
		model.FoldName(p.Grade) == model.FoldName(o.Grade)
}

// saysOfPlan judges what an event says of a plan, by itself.
func saysOfPlan(e *Event) error {
	ofPlan := e.Kind == Booked || e.Kind == Received || e.Kind == Cut
	switch {
	case ofPlan != (e.Plan != ""):
		return fmt.Errorf("a plan is named by what is booked, received or cut, and by no other")
	case (e.Kind == Booked) != (e.Booking != nil):
		return fmt.Errorf("what a plan asks for is said where it is booked, and nowhere else")
	case e.Kind != Received && len(e.Missing) > 0:
		return fmt.Errorf("a board is not delivered where others are received")
	case e.Kind != Cut && len(e.Done) > 0:
		return fmt.Errorf("what became of boards is said where they are cut, and nowhere else")
	case ofPlan && !ValidPlan(e.Plan):
		return fmt.Errorf("%q is no folder in the shop folder", e.Plan)
	}
	switch e.Kind {
	case Booked:
		return e.Booking.legal()
	case Received:
		if len(e.Changes) == 0 && len(e.Missing) == 0 {
			return fmt.Errorf("no board is received")
		}
		return once("received", append(comes(e.Changes), e.Missing...))
	case Cut:
		return e.cutAdds()
	}
	return nil
}

// ValidPlan says whether a text can name the folder of a plan: from the shop folder on, by
// slashes, with nothing that leads out of it.
func ValidPlan(name string) bool {
	return name != "." && len(name) <= 4096 && path.Clean(name) == name && !path.IsAbs(name) &&
		name != ".." && !strings.HasPrefix(name, "../") && !strings.ContainsAny(name, "\x00\n")
}

func (b *Booking) legal() error {
	for _, hash := range []string{b.Hash, b.Files} {
		sum, err := hex.DecodeString(hash)
		if err != nil || len(sum) != 32 || strings.ToLower(hash) != hash {
			return fmt.Errorf("%q is no SHA-256", hash)
		}
	}
	if b.Of != "" && !ValidPlan(b.Of) {
		return fmt.Errorf("%q is no folder in the shop folder", b.Of)
	}
	return once("booked", append(append(b.buys(), b.Uses...), b.Offcuts...))
}

// buys are the ids of the boards that are to come.
func (b *Booking) buys() []string {
	ids := make([]string, len(b.Buys))
	for i := range b.Buys {
		ids[i] = b.Buys[i].Board.ID
	}
	return ids
}

// comes are the boards that changes bring.
func comes(changes []Change) (ids []string) {
	for _, c := range changes {
		if c.Was == nil {
			ids = append(ids, c.ID())
		}
	}
	return ids
}

// once says whether each id stands there once.
func once(what string, ids []string) error {
	seen := map[string]bool{}
	for _, id := range ids {
		if id == "" || seen[id] {
			return fmt.Errorf("board %q is %s twice, or has no id", id, what)
		}
		seen[id] = true
	}
	return nil
}
