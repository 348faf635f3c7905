package proof

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"math/big"
	"slices"
	"sync"

	"rackwright/model"
	"rackwright/model/check"
)

// Prover judges the bounds of plans for one job. What it has derived from a certificate it keeps,
// so that the same certificate need not be worked out twice, whatever plan it is of. Make it with
// [NewProver]. It may be used from several goroutines at once.
type Prover struct {
	job      *model.Job     // as it was entered
	rack     map[string]int // id to index in job.Rack
	offers   map[int]int    // line of yard.csv to index in job.Yard
	parts    []*model.Part  // of the job, then the pieces that they may be made of
	wants    []want         // of the job, in the order of its parts
	held     []string       // by part the set of woods that hold it
	rippable []bool         // by wood
	keys     []demandKey    // by part that of its item

	mu    sync.Mutex
	known map[[sha256.Size]byte]*derivation // by certificate
}

// derivation is the bound of one certificate, under way or done.
type derivation struct {
	over  chan struct{} // closed when it is over
	bound *big.Int      // in ticks; nil as long as nothing is derived
}

// NewProver makes one that knows nothing yet but the job: which wood holds which part, what can be
// ripped, and of what its parts may be made.
func NewProver(job *model.Job) *Prover {
	job = job.AsEntered()
	p := &Prover{job: job, rack: map[string]int{}, offers: map[int]int{},
		known: map[[sha256.Size]byte]*derivation{}}
	for i := range job.Rack {
		p.rack[job.Rack[i].ID] = i
	}
	for i := range job.Yard {
		p.offers[job.Yard[i].Where.Line] = i
	}
	p.findWants()
	p.held = p.heldSets()
	p.findRippable()
	p.findKeys()
	return p
}

// Bounds is as the function of this name, for a plan of the prover's job. Once the context has
// ended it ends after the board under way: then not all bounds are derived, and it is not done.
func (p *Prover) Bounds(ctx context.Context, r *check.Reading) (found []model.Finding, done bool) {
	judged := newProof(ctx, p, r)
	judged.judge()
	return judged.found, !judged.late
}

// Knows says whether the bound of a certificate is derived already, or follows without a search.
func (p *Prover) Knows(c *model.Certificate) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	d := p.known[sumOf(c)]
	return d != nil && d.bound != nil
}

// derived is the bound of a group. Where its certificate has been worked out before, it is that;
// where it is just being worked out, it is waited for.
func (p *proof) derived(group *model.Group, where string, stocks []stock,
	items [][]int) *big.Int {
	sum := sumOf(&group.Certificate)
	for {
		d, mine := p.derivation(sum)
		if mine {
			before := len(p.found)
			bound := p.judgeBound(group, where, stocks, items)
			p.end(sum, d, bound, len(p.found) == before)
			return bound
		}
		select {
		case <-d.over:
		default:
			select {
			case <-d.over:
			case <-p.ctx.Done():
				p.late = true
				return nil
			}
		}
		if d.bound != nil {
			return d.bound
		}
	}
}

// derivation gives that of a certificate, and whether the caller has to carry it out.
func (p *Prover) derivation(sum [sha256.Size]byte) (d *derivation, mine bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if d = p.known[sum]; d == nil {
		d, mine = &derivation{over: make(chan struct{})}, true
		p.known[sum] = d
	}
	return d, mine
}

// end keeps a bound that is accepted, and forgets what came to nothing.
func (p *Prover) end(sum [sha256.Size]byte, d *derivation, bound *big.Int, accepted bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if accepted && bound != nil {
		d.bound = bound
	} else {
		delete(p.known, sum)
	}
	close(d.over)
}

// sumOf tells certificates apart. Nearly all of a large one is which stocks hold which item.
func sumOf(c *model.Certificate) (sum [sha256.Size]byte) {
	rest := *c
	rest.Items = slices.Clone(c.Items)
	hash, list := sha256.New(), []byte(nil)
	for i := range rest.Items {
		list = binary.AppendUvarint(list[:0], uint64(len(rest.Items[i].Stocks)))
		for _, s := range rest.Items[i].Stocks {
			list = binary.AppendVarint(list, int64(s))
		}
		hash.Write(list)
		rest.Items[i].Stocks = nil
	}
	if err := json.NewEncoder(hash).Encode(&rest); err != nil {
		panic(err) // it holds whole numbers and words only
	}
	hash.Sum(sum[:0])
	return sum
}
