package model

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
