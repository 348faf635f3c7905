package cutstock

// pricer finds the best layout of one stock. It is built once and asked many times; it is not safe
// for use by two goroutines. What it does counts on the meter it was made with.
type pricer interface {
	// bare is what the pricing takes the stock to be worth without a piece, in money x scale.
	bare(scale int64) int64
	// price gives a value that no layout exceeds, money x scale; where traits say quick, a value
	// that a layout has.
	price(a *ask) int64
	// vouch gives a value that no layout exceeds, wherever its pieces may lie.
	vouch(a *ask) int64
	// walk gives the layout that the last pricing found; nil where no piece has a place. With
	// allowed (copies still allowed, by item) it keeps to it: then a good layout, not always the
	// best. first, if not negative, is an item that goes first, if it can.
	walk(allowed []int64, first int) *Pattern
	// fill gives a layout of as much of what is left as goes in, and takes it from there; nil
	// where nothing fits.
	fill(left []int64, ask asker) *Pattern
	// list gives the layouts that are worth at least so much, each set of counts once with the
	// most worth that its layouts have; false where they are too many. best is what vouch gave.
	list(l *listing, best, least int64) ([]listed, bool)
	traits() traits
}

// asker makes a round of pricing of duals and copies still wanted.
type asker func(duals, wanted []int64) *ask

// traits are what a search must know of a pricer besides its values.
type traits struct {
	// fine is how many parts of a unit of money x scale its values are reckoned in.
	fine int64
	// quick: price may miss the best layout. vouch finds it, and leaves it for walk.
	quick bool
	// lists: list can answer.
	lists bool
	// copies: a layout may have more copies than are wanted, and a quota can limit them.
	copies bool
}

// meter counts basic steps.
type meter struct{ steps int64 }

func (m *meter) add(n int64) { m.steps += n }

// listing is one list over all stocks of a node.
type listing struct {
	ask   *ask
	most  int                   // layouts still allowed
	tails map[tailKey][][]int64 // what pricers of alike stocks have in common
}

// listed is a layout, its pattern's worth yet unknown, and the most that its counts are worth.
type listed struct {
	pattern Pattern
	worth   int64
}
