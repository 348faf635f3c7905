package cutstock

// dive fixes the columns of the relaxation one by one, most nearly whole first, generates columns anew for what is left after each, and
// so walks straight down to a plan. Only proper columns take part.
func (k *solver) dive(root *master) {
	m := root.clone()
	m.sync()
	m.purge()
	var uses []Use
	for {
		k.generate(m)
		fixed := k.fix(m)
		if len(fixed) == 0 {
			break
		}
		uses = append(uses, fixed...)
		if k.over() {
			break
		}
	}
	k.offer(uses)
}

// fix uses every column as often as the relaxation does in whole, as far as that is still wanted; or else the one nearest to once.
func (k *solver) fix(m *master) (uses []Use) {
	const nearly = 1e-6 // a column this near to a whole number counts as whole
	nearest, most := -1, nearly
	for j, c := range m.pool.cols[:m.added] {
		x := m.x(j)
		if x > most && m.proper(c) {
			nearest, most = j, x
		}
		times := int64(0)
		for ; float64(times+1) <= x+nearly && m.proper(c); times++ {
			m.use(c, 1)
		}
		if times > 0 {
			uses = append(uses, Use{c.Pattern, times})
		}
	}
	if len(uses) == 0 && nearest >= 0 {
		m.use(m.pool.cols[nearest], 1)
		uses = append(uses, Use{m.pool.cols[nearest].Pattern, 1})
	}
	if len(uses) > 0 {
		m.purge()
	}
	return uses
}
