package model

import "slices"

// Job is what is given to one run. Everything in it is in input order.
type Job struct {
	Settings Settings
	// those of commissions.csv, then those named in parts only, as they first appear
	Commissions []Commission
	Parts       []Part
	// one entry for each piece of lumber: rows with qty above 1 stand expanded as ID.1, ID.2, ...
	Rack   []Board
	Yard   []Offer
	Inputs []Input // sorted by name
	// ids that no board gets besides those of the rack: of boards that are gone or promised to
	// other plans, and those kept for what these buy or leave over
	Known []string
	// that parts may be of which are made up, as package makeup has them; they are no parts
	Pieces []Part
	// of a job whose parts are those that a plan cuts, the job as it was entered; else nil
	Entered *Job
}

// AsEntered is the job as it was entered: before a plan chose how parts are made up.
func (j *Job) AsEntered() *Job {
	if j.Entered != nil {
		return j.Entered
	}
	return j
}

// Input names one file that the job was read from, relative to the job folder with slashes, and the
// hex SHA-256 of its bytes. A file of the shop folder has [Above] before its name.
type Input struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

// Above leads from a job folder to the shop folder that it lies in.
const Above = "../"

// Source is what to call a file of the job by: its name, with [Above] before it where it was read
// from the shop folder.
func (j *Job) Source(name string) string {
	for _, in := range j.Inputs {
		if in.Name == Above+name {
			return in.Name
		}
	}
	return name
}

// Commission is one customer order. Due is YYYY-MM-DD, or empty.
type Commission struct {
	Name string `json:"commission"`
	Due  string `json:"due,omitempty"`
	Note string `json:"note,omitempty"`
}

// Part is a finished piece wanted Qty times. Its copies are numbered 1 to Qty, or as Copies has it.
// Length, Width and Thickness are finished sizes.
type Part struct {
	Commission string `json:"commission"`
	Name       string `json:"part"`
	Qty        int64  `json:"qty"`
	// of the rest of a job the numbers of the copies still wanted, ascending, and of how many they
	// are; nil and 0: all of them
	Copies    []int64 `json:"copies,omitempty"`
	Of        int64   `json:"of,omitempty"`
	Material  string  `json:"material"`
	Length    Length  `json:"length"`
	Width     Length  `json:"width"`
	Thickness Length  `json:"thickness"`
	Section   Section `json:"section,omitempty"` // empty: any section that holds it
	Face      Face    `json:"face"`
	// the rack board it must come from, or the row of alike ones; empty: any
	Board string `json:"board,omitempty"`
	// how it is made up: of so many staves and layers; 0: it is of one piece
	Staves Pieces `json:"staves,omitempty"`
	Layers Pieces `json:"layers,omitempty"`
	// Auto: it is so short that several come out of one blank, which is parted last; else 0
	InOne Pieces `json:"in_one,omitempty"`
	// as many copies more are made as cost next to nothing; their numbers go on after Qty
	Spare int64  `json:"spare,omitempty"`
	Note  string `json:"note,omitempty"`
	Where Where  `json:"where"`
	Makes *Makes `json:"makes,omitempty"` // of a piece of a part that is made up
}

// Where is a place in an input file; Line counts from 1.
type Where struct {
	File string `json:"file"`
	Line int    `json:"line"`
}

// All is how many copies there are in all, those that are not wanted any more included.
func (p *Part) All() int64 { return max(p.Qty, p.Of) }

// CopyAt is the number of one of the copies wanted, which are counted from 0.
func (p *Part) CopyAt(n int64) int64 {
	if p.Copies != nil {
		return p.Copies[n]
	}
	return n + 1
}

// Wants says whether a copy of that number is wanted.
func (p *Part) Wants(number int64) bool {
	if p.Copies != nil {
		_, found := slices.BinarySearch(p.Copies, number)
		return found
	}
	return number >= 1 && number <= p.Qty
}

// Wood is what a rack board and a board for sale have in common. Width and Thickness are as
// measured, or else the section's actual size; they are never zero in a job that was read without
// mistakes. Surface is how it comes: of its row, or else [Settings.SurfaceFor].
type Wood struct {
	Material  string  `json:"material"`
	Section   Section `json:"section"`
	Length    Length  `json:"length"`
	Width     Length  `json:"width"`
	Thickness Length  `json:"thickness"`
	Surface   Surface `json:"surface,omitempty"` // empty: finished on all sides
}

// Board is one real piece of lumber on the rack, offcuts included.
type Board struct {
	ID string `json:"board"`
	Wood
	Bin string `json:"bin,omitempty"`
	// the maker's own worth of this board; nil: by the yard's price
	Value *Money `json:"value,omitempty"`
	Since string `json:"since,omitempty"` // YYYY-MM-DD, or empty
	// the one commission that it may be cut for; empty: any
	For       string `json:"for,omitempty"`
	Untouched bool   `json:"untouched,omitempty"` // nothing may be cut from it
	// it was bought for the plan and is not cut yet, so that its ends are trimmed as the yard's
	Bought bool `json:"bought,omitempty"`
	// of the blanks that it may give, as it is crooked or bowed; 0: any
	Longest Length   `json:"longest,omitempty"`
	Note    string   `json:"note,omitempty"`
	Defects []Defect `json:"defects,omitempty"`
	Where   Where    `json:"where"`
}

// Defect is a span of a board's length, measured from its marked end, and of its width, measured
// from its left edge. Overlaps are allowed. Where the row gives no span of the width it is 0 to the
// board's width.
type Defect struct {
	From  Length `json:"from"`
	To    Length `json:"to"`
	Left  Length `json:"left"`
	Right Length `json:"right"`
	Kind  string `json:"kind"`
}

// Offer is one row of the yard: boards for sale. What one of them costs is [Job.PaidFor].
type Offer struct {
	Wood
	Price     Money  `json:"price"` // before tax, for what Per says
	Per       Per    `json:"per,omitempty"`
	Available *int64 `json:"available,omitempty"` // nil: any number
	Yard      string `json:"yard,omitempty"`      // empty where yards have no names
	Grade     string `json:"grade,omitempty"`     // for the buyer; planning takes no notice
	Where     Where  `json:"where"`
}

// Face says how clean a part must be.
type Face int

// The faces, from strictest to most tolerant.
const (
	Show   Face = iota // clear wood only
	Sound              // tolerates Settings.Sound
	Hidden             // tolerates Settings.Hidden
)

// Faces is the number of faces.
const Faces = 3

var faceNames = [Faces]string{"show", "sound", "hidden"}

func (f Face) String() string { return faceNames[f] }

// ParseFace reads show, sound or hidden.
func ParseFace(s string) (Face, bool) {
	for i, n := range faceNames {
		if n == s {
			return Face(i), true
		}
	}
	return Show, false
}

// Found is a board as it was found in a count of the bins. What was not read or measured is empty
// or 0.
type Found struct {
	ID       string // as it is written on the board
	Material string
	Section  Section
	Length   Length
	Width    Length
	Bin      string
	Note     string
	Where    Where
}

// Pieces says of how many pieces a part is, beside or on each other: 0 of one, or [Auto].
type Pieces int64

// Auto leaves it to the plan of how many pieces a part is.
const Auto Pieces = -1

// MadeUp says whether a plan may choose how the part comes about: it is glued up, or spare copies
// are welcome.
func (p *Part) MadeUp() bool { return p.ByWays() || p.Spare > 0 }

// ByWays says whether each copy of the part comes about by one of several ways; else it is cut as
// it is, but for spare copies.
func (p *Part) ByWays() bool { return p.Staves != 0 || p.Layers != 0 || p.InOne != 0 }

// Made says how some copies of a part come about that is made up, all of them in the same way. A
// way is known by its pieces: package makeup has all ways of a part.
type Made struct {
	Commission string `json:"commission"`
	Part       string `json:"part"`
	// of the part, ascending; spare ones have the numbers after its quantity
	Copies []int64 `json:"copies"`
	// the piece, as it would be entered; of a cover the narrowest that it has
	Section   Section `json:"section,omitempty"`
	Length    Length  `json:"length"`
	Width     Length  `json:"width"`
	Thickness Length  `json:"thickness"`
	Staves    int64   `json:"staves"`        // beside each other; 1 where there is one
	Layers    int64   `json:"layers"`        // on each other
	InOne     int64   `json:"in_one"`        // copies from one piece, above 1 in a gang
	Net       Length  `json:"net,omitempty"` // of staves that are alike: width, joints off
	// of a cover the net width of each stave in one layer, ascending; else nil
	Nets []Length `json:"nets,omitempty"`
}

// Makes says what a part that is a piece of another makes.
type Makes struct {
	Part      string `json:"part"`   // as it was entered
	Wanted    int64  `json:"wanted"` // the highest number of a copy that is no spare one
	Length    Length `json:"length"` // finished sizes of that
	Width     Length `json:"width"`
	Thickness Length `json:"thickness"`
	InOne     int64  `json:"in_one"`        // as of [Made]
	Net       Length `json:"net,omitempty"` // width of a stave, joints off
	// of each copy of the piece, by its number from 1
	Of []Member `json:"of"`
}

// Member says which piece of which copy of a made-up part a piece is, and of how many. Staves and
// layers are counted from 1. A gang gives several copies, else it is one.
type Member struct {
	Copies []int64 `json:"copies"`
	Stave  int64   `json:"stave"`
	Staves int64   `json:"staves"`
	Layer  int64   `json:"layer"`
	Layers int64   `json:"layers"`
}
