package report

import (
	"fmt"

	"rackwright/model"
)

// What the wood of one blank costs, for [Explain].

// choices prices the wood of one blank.
func (p *printer) choices(e *model.Explanation) {
	if len(e.Fits) == 0 {
		return
	}
	p.line("")
	p.line("Wood for one blank and its kerf, in %s, by the price per length: %s. Rounded down to "+
		"four decimals.",
		p.job.Settings.Currency, chargedFor)
	unit, per := p.job.Settings.Units.YardUnit()
	for i := range e.Choices {
		c := &e.Choices[i]
		rate := fmt.Sprintf("%v / %s", c.Price, p.exact(c.Per))
		if c.Share.Num != c.Share.Den {
			rate = fraction(c.Share) + " x " + rate
		}
		if c.Width != c.Wide {
			rate += fmt.Sprintf(" x %s / %s", p.exact(c.Width), p.exact(c.Wide))
		}
		each := c.Rate().Of(unit)
		p.line("  %s, %s", wood(c), p.basis(c))
		p.line("    %s x %s = %s a %s", rate, p.exact(unit), four(each), per)
		p.line("    %s x (%s + %s) = %s", rate, p.exact(e.Length.Total()), p.exact(e.Kerf),
			four(c.Cost))
	}
	if len(e.Worthless) > 0 {
		p.line("Worth nothing as they stand, so used first where they fit: %s.",
			p.names(&model.Woods{Rack: e.Worthless}))
	}
	for _, b := range e.Whole {
		p.line("Charged at its own rack value, whatever is cut from it: %s at %v.", b.ID, *b.Value)
	}
	switch next := e.RunnerUp(); {
	case len(e.Choices) == 0:
	case next == nil:
		p.line("Cheapest: %s. There is no other.", wood(&e.Choices[0]))
	default:
		more := next.Cost - e.Choices[0].Cost
		p.line("Cheapest: %s. Runner-up: %s, for each blank %s - %s = %s more.",
			wood(&e.Choices[0]), wood(next), four(next.Cost), four(e.Choices[0].Cost), four(more))
	}
}

// basis says what the price of a choice goes by.
func (p *printer) basis(c *model.Choice) string {
	switch c.From {
	case model.ByPrice:
		return fmt.Sprintf("bought by %s:%d", c.Offer.Where.File, c.Offer.Where.Line) +
			p.paid(c.Offer)
	case model.ByYard:
		return fmt.Sprintf("at rack value: the share [offcut] value of the lowest price per area, "+
			"%s:%d",
			c.Offer.Where.File, c.Offer.Where.Line) + p.inWidth(c)
	case model.ByOwnValue:
		return fmt.Sprintf("at rack value: that of %s in rack.csv, by its clear runs beyond "+
			"keep_length", c.Board.ID)
	case model.ByValues:
		return "at rack value: all that rack.csv gives for such boards, by their clear runs " +
			"beyond keep_length" + p.inWidth(c)
	}
	_, unit := p.job.Settings.Units.YardUnit()
	return fmt.Sprintf("at rack value: a guess of %v %s a %s, as no yard sells it and rack.csv "+
		"gives no value", c.Price, p.job.Settings.Currency, unit) + p.inWidth(c)
}

// inWidth says of which width boards have the price that a choice goes by, where its own is
// another.
func (p *printer) inWidth(c *model.Choice) string {
	if c.Width == c.Wide {
		return ""
	}
	return fmt.Sprintf(", for %s of width; this board has %s", p.exact(c.Wide), p.exact(c.Width))
}

// paid says how the price of one board comes about, where the row's own is not all of it.
func (p *printer) paid(o *model.Offer) string {
	text, tax := fmt.Sprintf(", a board for %v", p.job.PriceOf(o)), p.job.TaxOf(o)
	switch o.Per {
	case model.PerLength:
		_, unit := p.job.Settings.Units.YardUnit()
		text += fmt.Sprintf(" (%s at %v a %s)", o.Length.AtYard(p.job.Settings.Units), o.Price,
			unit)
	case model.PerBoardFoot, model.PerCubicMetre:
		tally := model.NewTallier(&p.job.Settings).Boards(&o.Wood,
			1).Millionths(p.job.Settings.Units)
		text += fmt.Sprintf(" (%s %s at %v)", fraction(model.Fraction{Num: tally, Den: 1_000_000}),
			p.measure(), o.Price)
	}
	switch {
	case tax > 0:
		text += fmt.Sprintf(" and %v tax (%s %%)", tax,
			fraction(*p.job.Settings.Yards[o.Yard].TaxPercent))
	case o.Per == model.PerPiece:
		return ""
	}
	return text
}
