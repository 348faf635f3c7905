package proof

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"math/big"
	"sync"

	"rackwright/model"
	"rackwright/model/check"
)

// Prover judges the bounds of plans for one job. What it has derived from a certificate it keeps,
// so that the same certificate need not be worked out twice, whatever plan it is of. Make it with
// [NewProver]. It may be used from several goroutines at once.
type Prover struct {
	job      *model.Job
	rack     map[string]int // id to index in job.Rack
	offers   map[int]int    // line of yard.csv to index in job.Yard
	held     []string       // by part the set of woods that hold it
	rippable []bool         // by wood

	mu    sync.Mutex
	known map[[sha256.Size]byte]*big.Int // by certificate the bound derived, in ticks
}

// NewProver makes one that knows nothing yet but the job: which wood holds which part, and what can
// be ripped.
func NewProver(job *model.Job) *Prover {
	p := &Prover{job: job, rack: map[string]int{}, offers: map[int]int{},
		known: map[[sha256.Size]byte]*big.Int{}}
	for i := range job.Rack {
		p.rack[job.Rack[i].ID] = i
	}
	for i := range job.Yard {
		p.offers[job.Yard[i].Where.Line] = i
	}
	p.held = p.heldSets()
	p.findRippable()
	return p
}

// Bounds is as the function of this name, for a plan of the prover's job. It ends soon after the
// context has: then not all bounds are derived, and it is not done.
func (p *Prover) Bounds(ctx context.Context, r *check.Reading) (found []model.Finding, done bool) {
	judged := newProof(ctx, p, r)
	judged.judge()
	return judged.found, !judged.late
}

// Knows says whether the bound of a certificate is derived already, or follows without a search.
func (p *Prover) Knows(c *model.Certificate) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.known[sumOf(c)] != nil
}

// derived is the bound of a group, from memory where its certificate has been worked out before.
func (p *proof) derived(group *model.Group, where string, stocks []stock,
	items [][]int) *big.Int {
	sum := sumOf(&group.Certificate)
	p.mu.Lock()
	bound := p.known[sum]
	p.mu.Unlock()
	if bound != nil {
		return bound
	}
	before := len(p.found)
	bound = p.judgeBound(group, where, stocks, items)
	if bound != nil && len(p.found) == before {
		p.mu.Lock()
		p.known[sum] = bound
		p.mu.Unlock()
	}
	return bound
}

// sumOf tells certificates apart.
func sumOf(c *model.Certificate) [sha256.Size]byte {
	text, err := json.Marshal(c)
	if err != nil {
		panic(err) // it holds whole numbers and words only
	}
	return sha256.Sum256(text)
}
