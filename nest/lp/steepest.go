package lp

// Steepest edge (Forrest & Goldfarb 1992, from memory).
//
// The dual leaves where x_r is farthest outside for the length of its edge: the weight of basis
// position r is |rho|^2, rho being row r of B^-1. These start at 1, right for a basis of
// activities. When q enters at r, with w = |rho|^2, alpha = B^-1 a_q, tau = B^-1 rho and a_i =
// alpha_i/alpha_r,
//
//	w_i' = w_i - 2 a_i tau_i + a_i^2 w    for i other than r
//	w_r' = w / alpha_r^2
//
// They hang on the basis alone, so that they stay right while columns come and bounds and costs
// change. Both forms of the simplex keep them, but for long runs of the primal.
//
// The primal enters what gains most for the length of its edge: the weight of a nonbasic variable j
// is 1 + |B^-1 a_j|^2. With sigma = B^-T alpha, w = 1 + |alpha|^2 and b_j = alpha_rj / alpha_r,
//
//	w_j' = w_j - 2 b_j a_j sigma + b_j^2 w    for j other than q
//	w_j' = w / alpha_r^2                      for the variable that leaves
//
// The dual does not keep these. Where many are missing, as after it, all of those start at 1: a
// guess that is mended only where pivots touch it. The few columns that come between two runs of
// the primal get their true ones.

const (
	// leastWeight keeps rounding from making weights of rows nought or less.
	leastWeight = 1e-4
	// edgesMost times as many edges as rows are measured, no more. Measured.
	edgesMost = 1
)

// weigh computes the weights of all basic variables.
func (p *Problem) weigh() {
	for r, v := range p.head {
		clear(p.tau)
		p.tau[r] = 1
		p.factor.solveTransposed(p.tau)
		p.dualWeight[v] = squares(p.tau)
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

// weighEdges gives weights to nonbasic variables that have none.
func (p *Problem) weighEdges() {
	missing := 0
	for v, w := range p.way {
		if w == 0 {
			p.weight[v] = 0
		} else if p.weight[v] == 0 {
			missing++
		}
	}
	for v, w := range p.way {
		if w == 0 || p.weight[v] != 0 {
			continue
		}
		p.weight[v] = 1
		if missing <= edgesMost*p.m {
			clear(p.tau)
			p.addColumnTo(p.tau, int32(v), 1)
			p.factor.solve(p.tau)
			p.weight[v] += squares(p.tau)
			p.work += int64(p.m)
		}
	}
	p.work += int64(2 * len(p.way))
}

// reweighEdges updates the weights of nonbasic variables for q entering at position r.
func (p *Problem) reweighEdges(q, r int32) {
	sigma, w := p.tau, 1.0
	clear(sigma)
	for _, i := range p.nz {
		a := p.alpha[i]
		w += a * a
		sigma[i] = a
	}
	p.factor.solveTransposed(sigma)
	pivot := p.alpha[r]
	for _, v := range p.rowAt {
		b := p.row[v] / pivot
		if b == 0 {
			continue
		}
		t := 0.0
		if int(v) < p.m {
			t = -sigma[v]
		} else {
			col := p.column(int(v) - p.m)
			for _, e := range col {
				t += e.val * sigma[e.at]
			}
			p.work += int64(len(col))
		}
		p.weight[v] = max(p.weight[v]+b*(b*w-2*t), 1+b*b)
	}
	p.weight[p.head[r]], p.weight[q] = max(w/(pivot*pivot), 1), 0
	p.work += int64(p.m + len(p.rowAt))
}

func squares(x []float64) float64 {
	sum := 0.0
	for _, f := range x {
		sum += f * f
	}
	return sum
}
