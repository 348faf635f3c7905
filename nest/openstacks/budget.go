package openstacks

import (
	"context"
	"math"
)

const (
	// certain is up to how many customers a search is never ended by its work: each set of closed
	// customers is looked at once for a value, which are about a million sets.
	certain = 20
	// work is how many steps other searches take at most; one looks at one customer.
	work = 20e6
)

// budget counts steps, and ends a search where they are up or the caller does not wait.
type budget struct {
	ctx   context.Context
	left  int64
	asked int64 // steps until ctx is asked again
}

// newBudget is for searches over some number of customers.
func newBudget(ctx context.Context, customers int, steps int64) *budget {
	if customers <= certain {
		steps = math.MaxInt64
	}
	return &budget{ctx: ctx, left: steps}
}

// spend takes steps, and says whether there were any.
func (b *budget) spend(steps int) bool {
	b.left -= int64(steps)
	b.asked -= int64(steps)
	if b.asked < 0 && b.left > 0 {
		b.asked = 10_000
		if b.ctx.Err() != nil {
			b.left = 0
		}
	}
	return b.left > 0
}
