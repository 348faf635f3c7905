package csvfile

// The rows of each file. The tags are the columns, the required ones first, and the order in which
// they are written.

type partRow struct {
	Commission text   `csv:"commission"`
	Part       text   `csv:"part"`
	Qty        number `csv:"qty"`
	Material   text   `csv:"material"`
	Length     number `csv:"length"`
	Width      number `csv:"width"`
	Thickness  number `csv:"thickness"`
	Section    number `csv:"section"`
	Face       number `csv:"face"`
	Board      text   `csv:"board"`
	Staves     number `csv:"staves"`
	Layers     number `csv:"layers"`
	Spare      number `csv:"spare"`
	Note       text   `csv:"note"`
}

// designRow is partRow without commission and board. A design is of no commission until it is
// ordered, and of no one board, as it is made again and again.
type designRow struct {
	Commission text   `csv:"-"`
	Part       text   `csv:"part"`
	Qty        number `csv:"qty"`
	Material   text   `csv:"material"`
	Length     number `csv:"length"`
	Width      number `csv:"width"`
	Thickness  number `csv:"thickness"`
	Section    number `csv:"section"`
	Face       number `csv:"face"`
	Board      text   `csv:"-"`
	Staves     number `csv:"staves"`
	Layers     number `csv:"layers"`
	Spare      number `csv:"spare"`
	Note       text   `csv:"note"`
}

type orderRow struct {
	Commission text   `csv:"commission"`
	Design     text   `csv:"design"`
	Qty        number `csv:"qty"`
}

type commissionRow struct {
	Commission text   `csv:"commission"`
	Due        number `csv:"due"`
	Note       text   `csv:"note"`
}

type rackRow struct {
	Board     text   `csv:"board"`
	Material  text   `csv:"material"`
	Section   number `csv:"section"`
	Length    number `csv:"length"`
	Qty       number `csv:"qty"`
	Width     number `csv:"width"`
	Thickness number `csv:"thickness"`
	Surface   number `csv:"surface"`
	Bin       text   `csv:"bin"`
	Value     number `csv:"value"`
	Since     number `csv:"since"`
	For       text   `csv:"for"`
	Untouched number `csv:"untouched"`
	Longest   number `csv:"longest"`
	Note      text   `csv:"note"`
}

type defectRow struct {
	Board text   `csv:"board"`
	From  number `csv:"from"`
	To    number `csv:"to"`
	Kind  text   `csv:"kind"`
	Left  number `csv:"left"`
	Right number `csv:"right"`
}

type countRow struct {
	Bin      text   `csv:"bin"`
	Board    text   `csv:"board"`
	Material text   `csv:"material"`
	Section  number `csv:"section"`
	Length   number `csv:"length"`
	Width    number `csv:"width"`
	Found    number `csv:"found"`
	Note     text   `csv:"note"`
}

type yardRow struct {
	Material  text   `csv:"material"`
	Section   number `csv:"section"`
	Length    number `csv:"length"`
	Price     number `csv:"price"`
	Available number `csv:"available"`
	Width     number `csv:"width"`
	Thickness number `csv:"thickness"`
	Surface   number `csv:"surface"`
	Yard      text   `csv:"yard"`
	Per       number `csv:"per"`
	Grade     text   `csv:"grade"`
}

type cutRow struct {
	Board      text   `csv:"board"`
	Origin     number `csv:"origin"`
	Material   text   `csv:"material"`
	Section    number `csv:"section"`
	Step       number `csv:"step"`
	Kind       number `csv:"kind"`
	From       number `csv:"from"`
	To         number `csv:"to"`
	Left       number `csv:"left"`
	Right      number `csv:"right"`
	Commission text   `csv:"commission"`
	Part       text   `csv:"part"`
	Copy       number `csv:"copy"`
	Face       number `csv:"face"`
	Offcut     text   `csv:"offcut"`
	Stave      text   `csv:"stave"`
}

// plainCutRow is cutRow of a plan in which no part is made up.
type plainCutRow struct {
	Board      text   `csv:"board"`
	Origin     number `csv:"origin"`
	Material   text   `csv:"material"`
	Section    number `csv:"section"`
	Step       number `csv:"step"`
	Kind       number `csv:"kind"`
	From       number `csv:"from"`
	To         number `csv:"to"`
	Left       number `csv:"left"`
	Right      number `csv:"right"`
	Commission text   `csv:"commission"`
	Part       text   `csv:"part"`
	Copy       number `csv:"copy"`
	Face       number `csv:"face"`
	Offcut     text   `csv:"offcut"`
	Stave      text   `csv:"-"`
}

type laidRow struct {
	Commission text   `csv:"commission"`
	Part       text   `csv:"part"`
	Copy       number `csv:"copy"`
	Layer      text   `csv:"layer"`
	Stave      text   `csv:"stave"`
	Board      text   `csv:"board"`
	Net        number `csv:"net_width"`
	Glued      number `csv:"glued_width"`
	Cut        number `csv:"cut_to"`
}

type buyRow struct {
	Material text   `csv:"material"`
	Section  number `csv:"section"`
	Length   number `csv:"length"`
	Qty      number `csv:"qty"`
	Price    number `csv:"price"`
	Total    number `csv:"total"`
	Tally    number `csv:"tally"`
	Width    number `csv:"width"`
	Surface  number `csv:"surface"`
	Yard     text   `csv:"yard"`
	Grade    text   `csv:"grade"`
	Tax      number `csv:"tax"`
	Reserve  number `csv:"reserve"`
	Boards   text   `csv:"boards"`
}

type orderedRow struct {
	Pass     number `csv:"pass"`
	Sequence number `csv:"sequence"`
	Saw      number `csv:"saw"`
	Setting  number `csv:"setting"`
	Board    text   `csv:"board"`
	Step     number `csv:"step"`
	Piece    text   `csv:"piece"`
}

type markRow struct {
	Board         text   `csv:"board"`
	Row           number `csv:"row"`
	Commission    text   `csv:"commission"`
	Part          text   `csv:"part"`
	Copy          number `csv:"copy"`
	Offcut        text   `csv:"offcut"`
	Length        number `csv:"length"`
	Width         number `csv:"width"`
	Makes         text   `csv:"makes"`
	State         number `csv:"state"`
	Measured      number `csv:"measured"`
	MeasuredWidth number `csv:"measured_width"`
	Defect        text   `csv:"defect"`
	Note          text   `csv:"note"`
}

// plainMarkRow is markRow of a plan in which no part is made up.
type plainMarkRow struct {
	Board         text   `csv:"board"`
	Row           number `csv:"row"`
	Commission    text   `csv:"commission"`
	Part          text   `csv:"part"`
	Copy          number `csv:"copy"`
	Offcut        text   `csv:"offcut"`
	Length        number `csv:"length"`
	Width         number `csv:"width"`
	Makes         text   `csv:"-"`
	State         number `csv:"state"`
	Measured      number `csv:"measured"`
	MeasuredWidth number `csv:"measured_width"`
	Defect        text   `csv:"defect"`
	Note          text   `csv:"note"`
}

type costRow struct {
	Commission text   `csv:"commission"`
	Cost       number `csv:"cost"`
	Yard       number `csv:"yard_cost"`
	Rack       number `csv:"rack_cost"`
	Handling   number `csv:"handling"`
	Ripping    number `csv:"ripping"`
	Credit     number `csv:"offcut_credit"`
	Tally      number `csv:"tally"`
}

// How many columns of each file are required, and the number of columns of the files that we write
// whole.
const (
	partNeeds, commissionNeeds, rackNeeds, defectNeeds, yardNeeds = 7, 1, 4, 4, 4
	designNeeds, orderNeeds, countNeeds, markNeeds, receivedNeeds = 6, 3, 5, 8, 1
	cutNeeds, buyNeeds, costNeeds, orderedNeeds, laidNeeds        = 15, 14, 8, 7, 9
)
