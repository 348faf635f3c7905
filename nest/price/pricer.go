package price

import "rackwright/nest/cutting"

// Pricer finds the best layout of one stock. It is built once and asked many times; it is not safe
// for use by two goroutines.
type Pricer interface {
	// Bare is what the stock is worth without a piece.
	Bare() int64
	// Price gives a value that no layout exceeds; with Traits.Quick, a value that a layout has.
	// Layouts with more copies than Ask.Demand need not count.
	Price(a *Ask) int64
	// Vouch gives a value that no layout exceeds, wherever its pieces may lie; false where that
	// takes more steps than Budget.Pricing. Where the best layout is worth no more than floor, it
	// may give floor, which is no less than Bare or else Never.
	Vouch(a *Ask, floor int64) (int64, bool)
	// Walk gives the layout that the last pricing found; nil where no piece has a place. With
	// allowed, the copies still allowed by item, it keeps to it: the layout is then good, not
	// always the best. An opener, an item, goes first if it can; -1: none in particular. Of the
	// opener at least one copy is allowed. Nil as well where the search would be long.
	Walk(allowed []int64, opener int) *cutting.Pattern
	// Fill gives a layout of as much of what is left as goes in, and takes it from there; nil
	// where nothing fits.
	Fill(left []int64, ask Asker) *cutting.Pattern
	// List gives the layouts that are worth at least so much: of each set of counts one whose
	// offcuts are worth most. False where they are too many. best is what Vouch gave.
	List(l *Listing, best, least int64) (*List, bool)
	Traits() Traits
}

// Asker makes a round of pricing of duals and copies still wanted.
type Asker func(duals, wanted []int64) *Ask

// Traits are what a search must know of a pricer besides its values.
type Traits struct {
	// Quick: Price may miss the best layout. Vouch finds it, and leaves it for Walk.
	Quick bool
	// Thin: the best layout is never known. Vouch and List have no answer.
	Thin bool
	// Lists: List can answer.
	Lists bool
	// Copies: a layout may have more copies than are wanted; those of a list do not.
	Copies bool
}

// Ask is one round of pricing.
type Ask struct {
	Duals  []int64 // of the items
	Demand []int64 // how many copies of each item count
	Fine   bool    // Price is not to be coarse
	Round  int     // differs from that of every other ask of the same search
}

// Meter counts basic steps of work.
type Meter struct{ Steps int64 }

// Add counts so many more.
func (m *Meter) Add(n int64) { m.Steps += n }

// Budget is what the pricers of one program may take.
type Budget struct {
	Memory  int64 // bytes left for their tables
	Pricing int64 // steps of one exact pricing
	Round   int64 // steps left for one quick pricing of each stock
	// of a stock with spots, how many starts along times lengths of items there may be at most; of
	// more, some starts are left out. 0: as many as there are
	Cells   int64
	Pending int  // lengths that a round prices besides those it chose; 0: some
	Many    bool // lengths are many and hardly alike: they are bounded together, and quickly, first
	Checked bool // the checker is to derive again what the stocks give: its limits hold, too
}

// Take takes memory, and steps of a quick pricing; false where there is not so much left of both.
func (b *Budget) Take(memory, round int64) bool {
	if memory > b.Memory || round > b.Round {
		return false
	}
	b.Memory -= memory
	b.Round -= round
	return true
}

// Unlimited is a budget for whatever is asked.
func Unlimited() *Budget { return &Budget{Memory: 1 << 60, Pricing: 1 << 60, Round: 1 << 60} }

// Listing is one list over all stocks of a node.
type Listing struct {
	Ask   *Ask
	Most  int   // layouts still allowed
	Steps int64 // about how many steps one stock may take; 0: as many as its lists ever may
}

// Never is minus infinity, with room to add to.
const Never = -1 << 61

// None says whether a value is minus infinity, whatever was added to it. Rips may make a layout
// worth less than nothing, but not that much less.
func None(value int64) bool { return value <= Never/8 }

// GCD is the greatest common divisor of two numbers that are not negative; of 0 and v it is v.
func GCD(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
