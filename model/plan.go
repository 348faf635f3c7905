package model

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
)

// Plan is a plan as written to the out folder: what the cut list, the order of work, the buy list,
// the rack after, the costs and the proof say. Reading the written files gives the same Plan again.
type Plan struct {
	// purchases + worth of rack boards used + handling + rips - worth of offcuts returned, rounded
	// once
	Value      Money
	Date       string // since of every offcut: YYYY-MM-DD, or empty
	Bound      Money  // no plan that meets the same pieces is cheaper than this
	Cuts       []Cut  // board by board, each from its marked end on
	Buy        []Purchase
	Rack       []Board  // after the cuts, with their defects
	Order      []Sawing // of the cuts, in the way that Work names
	Work       Work
	Costs      []Cost
	Shortages  []Shortage
	Groups     []Group
	Placements []Placement // one for each board used, in the order of Cuts
	Revision   *Revision   // nil: it takes the place of no other plan
	// how parts are made up that are not just cut, by part in the order of the parts list; the
	// cuts are of the pieces (package makeup)
	Made []Made
}

// Revision is what a plan knows of the one whose place it takes. Its job is what was left to cut:
// the copies still wanted, and the boards as they were then. Value and bound are of that alone.
type Revision struct {
	Number int64  `json:"number"` // from 2
	Of     string `json:"of"`     // the SHA-256 of plan.json of the plan before, in hex
	Before []Laid `json:"before"` // the boards not begun, as the plan before has them
	// what each board counts that is not cut as laid out before, how many these are, and what they
	// count together, which is no part of the value
	Change  Money `json:"change"`
	Changed int64 `json:"changed"`
	Counts  Money `json:"counts"`
}

// Laid is how a plan lays out one board, and which ids its offcuts have, in the order of the cuts.
// Offer is 0 of a board that has come since.
type Laid struct {
	Placement
	Offcuts []string `json:"offcuts,omitempty"`
}

// Same says whether two boards are laid out alike, piece by piece, whichever boards they are.
func (p *Placement) Same(q *Placement) bool {
	return p.First == q.First && p.RipFrom == q.RipFrom && p.RipTo == q.RipTo &&
		slices.Equal(p.Pieces, q.Pieces)
}

// Origin says where a board comes from.
type Origin string

// The origins.
const (
	FromRack Origin = "rack"
	FromYard Origin = "yard"
)

// Kind says what becomes of a span of a board.
type Kind string

// The kinds of spans.
const (
	KindTrim   Kind = "trim"
	KindPart   Kind = "part"
	KindKerf   Kind = "kerf"
	KindDefect Kind = "defect"
	KindWaste  Kind = "waste"
	KindOffcut Kind = "offcut"
)

// Cut is one row of cuts.csv: the span [From, To] x [Left, Right] of a board and what becomes of
// it. Step counts the cuts on that board from 1: the cut that frees this span on the side away from
// the marked end. Commission, Part, Copy and Face are set for parts only, Offcut (an id) for
// offcuts only.
type Cut struct {
	Board      string
	Origin     Origin
	Material   string
	Section    Section
	Step       int
	Kind       Kind
	From, To   Length
	Left       Length
	Right      Length
	Commission string
	Part       string
	Copy       int64
	Face       Face
	Offcut     string
}

// Rect is where the row lies on its board.
func (c *Cut) Rect() Rect { return Rect{From: c.From, To: c.To, Left: c.Left, Right: c.Right} }

// Purchase is one row of buy.csv: how many boards of one offer to buy. Price is that of one board,
// Total = Qty x Price, and Tax is on top of it. Tally is what the yard will count for them, in
// millionths as that of [Cost]. Boards are the ids of the boards, in the order of the cuts. Reserve
// rows stand after all others: nothing is cut from their boards, which have no ids, and neither
// value nor costs know of them.
type Purchase struct {
	Material string
	Section  Section
	Length   Length
	Qty      int64
	Price    Money
	Total    Money
	Tally    int64
	Width    Length
	Surface  Surface
	Yard     string
	Grade    string
	Tax      Money
	Reserve  bool
	Boards   []string
}

// Cost is one row of costs.csv. Cost = Yard + Rack + Handling + Ripping - Credit; all rows sum to
// the plan's value. What a board costs, its rips with it, and its offcuts are credited with is
// shared exactly among its pieces, by length, or by area where it is ripped, a kerf with each. Only
// the sums are rounded: Yard, Rack, Handling and Ripping of all rows by [Valuation.Shown], Credit
// so that the rows sum to the value. Such a
// total is dealt out by largest remainder: each row has its share rounded down, and a unit too many
// or too few goes to the row that is then farthest below, or above, its share; of equals to the
// first. Tally is the volume of its blanks in millionths of a board foot, or of a cubic metre in a
// millimetre shop.
type Cost struct {
	Commission string
	Cost       Money
	Yard       Money
	Rack       Money
	Handling   Money
	Ripping    Money
	Credit     Money
	Tally      int64
}

// Shortage names copies of a part that no board on hand or for sale can give, and why.
type Shortage struct {
	Commission string  `json:"commission"`
	Part       string  `json:"part"`
	Copies     []int64 `json:"copies"`
	Reason     string  `json:"reason"`
}

// Placement is one board used: the yard's line it was bought by (0 for a rack board), how it is
// laid out, and its pieces in the order of the cuts. RipFrom and RipTo are where the board is
// crosscut before it is ripped first; both 0: nowhere but at its trims.
type Placement struct {
	Board   string  `json:"board"`
	Offer   int     `json:"yard,omitempty"` // line of yard.csv
	First   First   `json:"first,omitempty"`
	RipFrom Length  `json:"rip_from,omitempty"`
	RipTo   Length  `json:"rip_to,omitempty"`
	Pieces  []Piece `json:"pieces"`
}

// First is the kind of cut by which a board is broken down.
type First string

// The ways to break a board down; a board that is not ripped at all has none.
const (
	NotRipped     First = ""
	CrosscutFirst First = "crosscut"
	RipFirst      First = "rip"
)

// Piece is one blank on a board: copy Copy of a part, cut at [From, To], and at [Left, Right] of
// its width; both 0: all of it.
type Piece struct {
	Commission string `json:"commission"`
	Part       string `json:"part"`
	Copy       int64  `json:"copy"`
	From       Length `json:"from"`
	To         Length `json:"to"`
	Left       Length `json:"left,omitempty"`
	Right      Length `json:"right,omitempty"`
}

// Proof is what is known of a group's plan.
type Proof string

// Proofs. Optimal: no plan is cheaper by 1/10000 of the currency or more. Feasible: a plan, not
// proven the cheapest.
const (
	Optimal  Proof = "optimal"
	Feasible Proof = "feasible"
)

// Ended is why the search for a group's plan ended.
type Ended string

// Endings.
const (
	Finished    Ended = "finished"
	WorkLimit   Ended = "work limit"
	Clock       Ended = "clock"
	Interrupted Ended = "interrupted"
)

// Group is a connected set of parts and the boards that can hold them, planned apart from the
// others. The plan's value is dealt out to the groups by largest remainder, as [Cost] says. Bound
// is the exact bound rounded down; where the proof is Optimal it is the value.
type Group struct {
	Name        string      `json:"name"`
	Value       Money       `json:"value"`
	Bound       Money       `json:"bound"`
	Proof       Proof       `json:"proof"`
	Ended       Ended       `json:"ended"`
	Certificate Certificate `json:"certificate"`
}

// Certificate is what a group's bound can be derived from again, without the solver; package proof
// says how. Costs, duals and targets are in ticks: 2^-Bits of 1/10000 of the currency unit.
type Certificate struct {
	Bits   uint        `json:"bits"` // those of the job's valuation
	Items  []CertItem  `json:"items"`
	Stocks []CertStock `json:"stocks"`
	Wants  []CertWant  `json:"wants,omitempty"` // parts that are made up, in their order
	Root   CertNode    `json:"root"`            // of all plans
}

// CertWant is a part that is made up: so many copies are wanted, which ways have together. A copy
// that no way gives costs Forgo; nil: each has to be made. Covers are counted after the ways.
type CertWant struct {
	Commission string      `json:"commission"`
	Part       string      `json:"part"`
	Demand     int64       `json:"demand"`
	Forgo      *int64      `json:"forgo,omitempty"` // in ticks
	Ways       []CertWay   `json:"ways"`
	Covers     []CertCover `json:"covers,omitempty"`
}

// CertWay gives Copies of a part for so many pieces of an item.
type CertWay struct {
	Item   int   `json:"item"`
	Pieces int64 `json:"pieces"`
	Copies int64 `json:"copies"`
}

// CertCover gives a copy of a part for staves whose widths come to Need, in each of the layers.
type CertCover struct {
	Need   int64       `json:"need"` // in steps
	Layers int64       `json:"layers"`
	Staves []CertStave `json:"staves"`
}

// CertStave is an item that counts so many steps.
type CertStave struct {
	Item  int   `json:"item"`
	Steps int64 `json:"steps"`
}

// CertItem is a blank length of one face, wanted Demand times by parts that are not made up; Stocks
// are the indices of the stocks that hold it. Width is that of the finished parts where one of the
// stocks can be ripped, else 0.
type CertItem struct {
	Length Length `json:"length"`
	Width  Length `json:"width,omitempty"`
	Face   Face   `json:"face"`
	Demand int64  `json:"demand"`
	Stocks []int  `json:"stocks"`
}

// CertStock is either a set of alike rack boards or one line of yard.csv. Cost is price or worth,
// with handling.
type CertStock struct {
	Boards []string `json:"boards,omitempty"`
	Yard   int      `json:"yard,omitempty"`
	Cost   int64    `json:"cost"`   // in ticks
	Supply *int64   `json:"supply"` // null: any number
	// what one board gives is bounded by area, not worked out
	Rough bool `json:"rough,omitempty"`
	// what one board gives is worked out on a coarser grid of these steps, along and across; 0: on
	// its own
	Grid       Length `json:"grid,omitempty"`
	GridAcross Length `json:"grid_across,omitempty"`
}

// CertNode is a part of all plans: a split in two, or a leaf with the duals of its items. Within
// says what a board gives that gives no item more often than it is wanted. Where these prove too
// little, a list proves more.
type CertNode struct {
	Split  *CertSplit   `json:"split,omitempty"` // of a leaf nil; of a split all else is empty
	Choice *CertChoice  `json:"choice,omitempty"`
	Duals  []int64      `json:"duals,omitempty"`
	Within []CertWithin `json:"within,omitempty"` // each stock at most once
	List   *CertList    `json:"list,omitempty"`
}

// AllBought stands in a split for all stocks of which there is any number.
const AllBought = -1

// CertSplit parts the plans of a node by how many boards of a stock they use, or of all stocks
// together of which there is any number: Low has those of at most AtMost, High those of more.
type CertSplit struct {
	Stock  int      `json:"stock"` // or AllBought
	AtMost int64    `json:"at_most"`
	Low    CertNode `json:"low"`
	High   CertNode `json:"high"`
}

// CertChoice parts the plans of a node by how many times a way is used: Low has those of at most
// AtMost, High those of more.
type CertChoice struct {
	Want   int      `json:"want"`
	Way    int      `json:"way"`
	AtMost int64    `json:"at_most"`
	Low    CertNode `json:"low"`
	High   CertNode `json:"high"`
}

// CertWithin is the most that one board of a stock gives at the duals of the leaf, if it gives at
// least one piece, and of no item more than are wanted: pieces at their duals, and its worth.
type CertWithin struct {
	Stock int   `json:"stock"`
	Gives int64 `json:"gives"` // in ticks
}

// CertList bounds the plans of a leaf that are cheaper than a target, over the list of all patterns
// that these can use.
type CertList struct {
	Target int64 `json:"target"` // in ticks
	CertListNode
}

// CertListNode is a part of these plans: bounded by duals, or split in two. No dual is below 0.
// Cuts and sides of splits are rows. They are counted on the way down to a node: those of the
// boards bought where splits above the leaf are about these, at least and at most so many; the cuts
// of one node, then the side of its split, then the cuts of the node on that side. CutDuals are
// those of all rows so far.
type CertListNode struct {
	Cuts []CertCut `json:"cuts,omitempty"`
	// duals that strike patterns off the list before the last ones, in this order
	Struck   []CertStruck   `json:"struck,omitempty"`
	Duals    []int64        `json:"duals,omitempty"` // of the items
	CutDuals []int64        `json:"cut_duals,omitempty"`
	Split    *CertListSplit `json:"split,omitempty"` // in place of duals
}

// CertListSplit parts plans by how many boards of some stocks they use that have so many copies of
// some items, or where an item is named by how many of its copies those boards give: Low has those
// of at most AtMost, High those of more.
type CertListSplit struct {
	Stocks []int        `json:"stocks"`           // indices rise
	Having []CertHaving `json:"having,omitempty"` // items rise
	Item   *int         `json:"item,omitempty"`
	AtMost int64        `json:"at_most"`
	Low    CertListNode `json:"low"`
	High   CertListNode `json:"high"`
}

// CertHaving asks for so many copies of an item on a board, or more.
type CertHaving struct {
	Item   int   `json:"item"`
	Copies int64 `json:"copies"`
}

// CertStruck strikes off the list what no plan below its target can use, by duals of the items and
// of the first rows that are counted: the later cuts are made without those patterns.
type CertStruck struct {
	Duals    []int64 `json:"duals"`
	CutDuals []int64 `json:"cut_duals,omitempty"`
}

// CertCut is a cut by what it is made from: rows, each index with its multiplier, over one
// denominator.
type CertCut struct {
	Den  int64      `json:"den"`  // 2 to MostDen of package proof
	Rows [][2]int64 `json:"rows"` // indices rise; multipliers from 1 to Den - 1
}

// Finding is one thing that is wrong with a plan: where it stands, and what is wrong, in the
// maker's words.
type Finding struct{ Where, What string }

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
