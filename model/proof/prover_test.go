package proof

import (
	"context"
	"math/big"
	"math/rand/v2"
	"testing"

	"rackwright/model"
	"rackwright/model/check"
	"rackwright/model/internal/handmade"
)

// At duals of 0 no layout gives more than the bare board, by the searches that a leaf then mostly
// does without, and no board more than it costs; and the leaf proves what it does with them all.
func TestAtDualsOf0NoBoardGivesMoreThanItIsWorth(t *testing.T) {
	r := rand.New(rand.NewPCG(87, 88))
	equal, less := 0, 0
	for n := range 600 {
		p := randomProgram(r)
		if r.IntN(2) == 0 {
			p, _ = randomRipProgram(r)
		}
		duals := make([]int64, len(p.cert.Items))
		var longest model.Length
		for s := range p.stocks {
			if b := p.stocks[s].along; b != nil {
				longest = max(longest, b.To-b.From)
			}
		}
		want, leaf := new(big.Int), &leafProof{treeProof: p.treeProof, cert: p.cert, duals: duals}
		for s := range p.stocks {
			one := &p.stocks[s]
			gives, why := leaf.mostOf(s, longest)
			bare := p.bare(one.woods[0])
			if why != "" || gives > bare || bare > one.cost {
				t.Fatalf("job %d, stock %d: gives %d %s, is worth %d and costs %d: %+v", n, s,
					gives, why, bare, one.cost, p.job)
			}
			if gives == bare {
				equal++
			} else {
				less++
			}
			net := big.NewInt(one.cost - gives)
			want.Add(want, net.Mul(net, big.NewInt(p.limits[s].least)))
		}
		if l := p.dualsOf(duals); l == nil || l.sum.Cmp(want) != 0 {
			t.Fatalf("job %d: proves %v, want %v: %v", n, l, want, p.found)
		}
	}
	if equal < 200 {
		t.Errorf("only %d boards give what they are worth, %d less", equal, less)
	}
}

// What has been derived is known, whatever ends; what has not is left open, and nothing else is
// said of it. A certificate that differs is another one.
func TestProverRemembersAndEnds(t *testing.T) {
	job, plan := handmade.Tiny()
	reading, _ := check.Check(job, plan)
	cert := &plan.Groups[0].Certificate
	ended, end := context.WithCancel(context.Background())
	end()
	p := NewProver(job)
	if found, done := p.Bounds(ended, reading); done || len(found) > 0 || p.Knows(cert) {
		t.Errorf("ended at once: done %v, known %v, says %v", done, p.Knows(cert), found)
	}
	if found, done := p.Bounds(context.Background(), reading); !done || len(found) > 0 ||
		!p.Knows(cert) {
		t.Errorf("done %v, known %v, says %v", done, p.Knows(cert), found)
	}
	if found, done := p.Bounds(ended, reading); !done || len(found) > 0 {
		t.Errorf("derived before: done %v, says %v", done, found)
	}
	plan.Groups[0].Bound--
	if found, _ := p.Bounds(ended, reading); len(found) == 0 {
		t.Error("a bound that the certificate does not prove is accepted from memory")
	}
	plan.Groups[0].Bound++
	cert.Root.Duals[0]++
	if _, done := p.Bounds(ended, reading); done || p.Knows(cert) {
		t.Error("a certificate with another dual is taken for the one derived")
	}
}

// A plan whose duals are all 0 is proven to cost no less than nothing.
func TestDualsOf0ProveABoundOf0(t *testing.T) {
	for _, made := range []func() (*model.Job, *model.Plan){handmade.Tiny, handmade.Slats} {
		job, plan := made()
		g := &plan.Groups[0]
		g.Certificate.Root = model.CertNode{Duals: make([]int64, len(g.Certificate.Items))}
		plan.Bound -= g.Bound
		g.Bound, g.Proof = 0, model.Feasible
		for _, f := range bounds(job, plan) {
			t.Errorf("%s: %s", f.Where, f.What)
		}
		g.Bound, plan.Bound = 1, plan.Bound+1
		handmade.Want(t, bounds(job, plan), "the certificate proves 0.00")
	}
}
