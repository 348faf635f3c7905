// Package cutstock solves one cutting-stock program to a plan with a proven bound.
//
//	min  sum (c_s - v_p) x_p      x_p: how often pattern p of stock s is used; v_p: worth of the offcuts it returns
//	s.t. sum a_ip x_p >= d_i      for each item i    (dual pi_i >= 0)
//	     sum over p of s  x_p <= u_s   for each stock s   (dual mu_s <= 0)
//	     x whole
//
// ">=" keeps the duals non-negative; surplus pieces are taken out at the end and never cost more.
// Supply may fall short: each item has a column of its own that meets it at a price above any real
// one, and what such columns meet in the end is unmet.
//
// Call [Solve]. It generates columns (colgen.go) priced by dynamic programming (price.go, over the
// starts of positions.go), derives a bound in whole numbers (bound.go), and looks for plans by
// diving (dive.go), by an integer program over the columns found (pool.go) and by branching on how
// many of a stock are used (branch.go). Floating point is used in nest/lp only: every plan is
// valued, and every bound derived, in whole money.
//
// Indices: i item, s stock, p pattern, j column, t position.
package cutstock
