package lp

import "math"

// The method is the bounded-variable revised simplex (Dantzig; Orchard-Hays, from memory) in two
// forms that mend what the other leaves:
//
//   - primal.go goes from a feasible basis to a dual feasible one with the true costs, on bounds
//     that it may widen a little against degeneracy;
//   - dual.go goes from a dual feasible basis to a feasible one with the true bounds, on costs that
//     it may shift. Where reduced costs have wrong signs, boxed variables change bound and other
//     costs are shifted until none has. So the dual form is also the first phase: that no feasible
//     point exists does not depend on costs.
//
// Solve restores the true data and computes x and d anew after each form, until both signs hold. So
// what was widened, shifted or lost to rounding costs a few more pivots but never enters a result.
// Later rounds stop perturbing, then use Bland's rule (1977, from memory), which cannot cycle.

// Tolerances and limits of the method.
const (
	// a bound counts as obeyed, relative to 1 + |bound|: a hundredth of what is promised, as
	// scaling may cost some
	feasTol    = 1e-9
	feasMost   = 5e-8  // likewise, for a basis that proves nonsense at feasTol
	optTol     = 1e-9  // a sign of d counts as right, relative to costScale: likewise
	slackShare = 0.5   // part of these that a ratio test may spend; the rest is for rounding
	pivotTol   = 1e-7  // a smaller pivot would make the next basis nearly singular
	lastPivot  = 1e-10 // the least that counts when there is no other, with fresh factors
	smallPivot = 1e-5  // a pivot to be trusted only with fresh factors
	// difference between row and column form of a pivot that calls for fresh factors
	agreeTol    = 1e-7
	residualTol = 1e-9 // likewise for equations and basic reduced costs
	// a proof of infeasible or unbounded holds by more than this, relative to its terms
	proofTol    = 1e-9
	noise       = 1e-13 // a reduced cost this small against its terms is rounding, not a direction
	roundsCalm  = 6     // rounds after which nothing is perturbed
	roundsBland = 12    // rounds after which Bland's rule is used
	roundsLast  = 40    // rounds after which the problem counts as stalled
)

// outcome is how one form of the simplex ended.
type outcome int

const (
	done   outcome = iota // the sign it works for holds
	proven                // primal: unbounded; dual: infeasible
	again                 // the basis had to be repaired
	doubt                 // a proof that does not stand up to the data
	limit                 // too many iterations
)

// Solve solves the program from the basis of the last Solve, or from all activities basic. Value, X
// and Dual hold a solution only after Optimal; any later Solve may still start from where another
// Status left the basis.
func (p *Problem) Solve() Status {
	s := p.solve()
	p.recorder.call('S', p, []int{int(s)}, p.value)
	return s
}

func (p *Problem) solve() Status {
	p.begin()
	for v, lo := range p.lo {
		if hi := p.hi[v]; lo > hi || math.IsInf(lo, 1) || math.IsInf(hi, -1) {
			return Infeasible
		}
	}
	for round := range roundsLast {
		p.calm, p.bland = round >= roundsCalm, round >= roundsBland
		p.restore()
		var end outcome
		feasible := p.feasible()
		p.priced = false
		switch {
		case !feasible:
			end = p.dual()
		case !p.dualFeasible():
			end = p.primal()
		default:
			p.conclude()
			p.priced = true
			return Optimal
		}
		switch {
		case end == limit:
			p.restore()
			return Stalled
		case end == proven && !feasible:
			return Infeasible
		case end == proven && !p.boundsMoved:
			return Unbounded
		case end == doubt:
			p.startOver()
		}
	}
	return Stalled
}

// conclude computes the value and takes rounding off the signs of duals, so that callers need not.
func (p *Problem) conclude() {
	p.value = 0
	for v := p.m; v < len(p.x); v++ {
		p.value += p.cost[v] * p.x[v]
	}
	for i := range p.m {
		if d := p.d[i]; d < 0 && math.IsInf(p.hi[i], 1) || d > 0 && math.IsInf(p.lo[i], -1) {
			p.d[i] = 0
		}
	}
}

// begin makes room for the basis before the first Solve.
func (p *Problem) begin() {
	p.pivots, p.iterations = p.pivots+int64(p.iterations), 0
	p.boundsMoved, p.tolerance = false, feasTol
	if p.head != nil {
		return
	}
	p.scaleAll()
	p.head = make([]int32, p.m)
	p.alpha, p.rho, p.scratch = make([]float64, p.m), make([]float64, p.m), make([]float64, p.m)
	p.tau = make([]float64, p.m)
	p.extend(p.m + p.n)
	p.steep = true
	for i := range p.head {
		p.head[i], p.place[i] = int32(i), int32(i)
	}
	for v := p.m; v < len(p.lo); v++ {
		p.settle(int32(v))
	}
}

// startOver makes all activities basic: a basis so nearly singular that it proves nonsense is not
// worth mending. What is left of the promised tolerance is used from then on.
func (p *Problem) startOver() {
	for _, v := range p.head {
		p.place[v] = -1
		p.settle(v)
	}
	for i := range p.head {
		p.head[i], p.place[i], p.way[i] = int32(i), int32(i), 0
	}
	p.steep = false
	p.factored = false
	p.tolerance = math.Min(10*p.tolerance, feasMost)
}

// extend makes room for n more variables outside the basis.
func (p *Problem) extend(n int) {
	for range n {
		p.workLo, p.workHi, p.workCost = append(p.workLo, 0), append(p.workHi, 0),
			append(p.workCost, 0)
		p.x, p.d, p.row = append(p.x, 0), append(p.d, 0), append(p.row, 0)
		p.weight, p.dualWeight = append(p.weight, 0), append(p.dualWeight, 1)
		p.way, p.place, p.stamp = append(p.way, 0), append(p.place, -1), append(p.stamp, 0)
	}
}

// settle puts a nonbasic variable at the bound it rests at, else at its bound nearest zero, and
// notes its ways.
func (p *Problem) settle(v int32) {
	if p.place[v] >= 0 {
		return
	}
	lo, hi := p.lo[v], p.hi[v]
	low, high := !math.IsInf(lo, 0), !math.IsInf(hi, 0)
	switch {
	case !low && !high:
		p.x[v], p.way[v] = 0, up|down
	case lo == hi:
		p.x[v], p.way[v] = lo, 0
	case !high || low && (p.way[v] == up || p.way[v] != down && math.Abs(lo) <= math.Abs(hi)):
		p.x[v], p.way[v] = lo, up
	default:
		p.x[v], p.way[v] = hi, down
	}
}

// costScale is about the geometric mean of the costs that are not zero, so that a few dear columns
// do not blur the rest; 1 if there are none.
func (p *Problem) costScale() float64 {
	if p.costsNonzero == 0 {
		return 1
	}
	return math.Ldexp(1, int(math.Round(float64(p.costExponents)/float64(p.costsNonzero))))
}

// allowed is how far a variable may pass a bound.
func (p *Problem) allowed(bound float64) float64 { return p.tolerance * (1 + math.Abs(bound)) }

// feasible tells whether x obeys all bounds.
func (p *Problem) feasible() bool {
	for _, v := range p.head {
		if p.excess(v) != 0 {
			return false
		}
	}
	return true
}

// excess is how far a basic variable is above its upper bound, or, negative, below its lower one; 0
// within tolerance.
func (p *Problem) excess(v int32) float64 {
	x := p.x[v]
	if below := x - p.workLo[v]; below < 0 && below < -p.allowed(p.workLo[v]) {
		return below
	}
	if above := x - p.workHi[v]; above > 0 && above > p.allowed(p.workHi[v]) {
		return above
	}
	return 0
}

// dualFeasible tells whether every d has the right sign.
func (p *Problem) dualFeasible() bool {
	tol := optTol * p.costScale()
	for v, w := range p.way {
		if w != 0 && wrong(w, p.d[v], tol) {
			return false
		}
	}
	return true
}

// wrong tells whether moving in an allowed way lowers the value.
func wrong(w way, d, tol float64) bool {
	return d < -tol && w&up != 0 || d > tol && w&down != 0
}

// random returns a number in [0.5, 1), from a fixed start (xorshift; Marsaglia 2003, from memory).
func (p *Problem) random() float64 {
	p.rng ^= p.rng << 13
	p.rng ^= p.rng >> 7
	p.rng ^= p.rng << 17
	return 0.5 + float64(p.rng>>11)/(1<<54)
}
