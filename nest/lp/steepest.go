package lp

// Dual steepest edge.
//
// The weight of basis position r is the squared length of row r of B^-1, so that the dual leaves
// where x_r is farthest outside in the space of the dual (Forrest & Goldfarb 1992, from memory).
// Weights start at 1, right for a basis of activities. Let rho be row r of B^-1, w = |rho|^2,
// alpha = B^-1 a_q and tau = B^-1 rho. When q enters at r, with a_i = alpha_i / alpha_r,
//
//	w_i' = w_i - 2 a_i tau_i + a_i^2 w    for i other than r
//	w_r' = w / alpha_r^2
//
// Both forms of the simplex keep them, but for long runs of the primal. Weights hang on the basis
// alone, so that they stay right while columns come and bounds and costs change.

// leastWeight keeps rounding from making weights nought or less.
const leastWeight = 1e-4

// weigh computes the weights of all basic variables.
func (p *Problem) weigh() {
	for r, v := range p.head {
		clear(p.tau)
		p.tau[r] = 1
		p.factor.solveTransposed(p.tau)
		w := 0.0
		for _, f := range p.tau {
			w += f * f
		}
		p.dualWeight[v] = w
	}
	p.steep = true
	p.work += int64(p.m) * int64(p.m)
}

// reweigh updates the weights of basic variables for q entering at position r.
func (p *Problem) reweigh(q, r int32) {
	tau, w := p.tau, 0.0
	clear(tau)
	for _, i := range p.nzRow {
		f := p.rho[i]
		w += f * f
		tau[i] = f
	}
	p.factor.solve(tau)
	pivot := p.alpha[r]
	for _, i := range p.nz {
		a := p.alpha[i] / pivot
		v := p.head[i]
		p.dualWeight[v] = max(p.dualWeight[v]+a*(a*w-2*tau[i]), leastWeight*(1+a*a))
	}
	p.dualWeight[q] = max(w/(pivot*pivot), leastWeight)
	p.work += int64(p.m)
}
