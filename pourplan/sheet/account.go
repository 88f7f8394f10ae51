package sheet

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"halfpour/pourplan"
)

// WriteAccount writes a page of the account of one mold as PDF: its
// figures, every weight against the prediction, and the life of all molds
// used up so far. The same account gives the same bytes. Paper that is too
// small is an error.
func WriteAccount(w io.Writer, a *pourplan.Account, p *pourplan.Plan, mold int, paper Paper) error {
	pages, err := layOutAccount(a, p, mold, paper)
	if err != nil {
		return err
	}
	return printPDF(w, pages, "Account: "+p.Title)
}

func layOutAccount(a *pourplan.Account, plan *pourplan.Plan, mold int, paper Paper) ([]*page, error) {
	s, err := newSheet(plan, paper)
	if err != nil {
		return nil, err
	}
	p, body := s.newPage("Account")
	sum := a.Summarise(plan, mold)
	y := s.accountFigures(p, body, sum) + 6
	life := float64(len(lastMolds(sum)))*lifeRow + 18
	weights := math.Min(body.y+body.height-y-life-6, 120)
	s.weightPlot(p, region{body.x, y, body.width, weights}, a, mold)
	s.lifePlot(p, region{body.x, y + weights + 6, body.width, life}, a, sum)
	s.footings()
	return s.pages, nil
}

// accountFigures sets the figures as rows.
func (s *sheet) accountFigures(p *page, at region, sum *pourplan.AccountSummary) float64 {
	y := at.y
	row := func(label, value string) {
		y = s.valueRow(p, region{at.x, y, at.width, 0}, smallBold, label, value)
	}
	l := sum.Life
	row(fmt.Sprintf("Mold %d: shots poured", sum.Mold), strconv.Itoa(l.Shots))
	usual := ""
	if l.Usual {
		usual = " (common practice)"
	}
	row(fmt.Sprintf("Left of a life of %d to %d shots%s", l.LowShots, l.HighShots, usual),
		fmt.Sprintf("%d to %d shots, about %d to %d good heads", l.LeftLowShots, l.LeftHighShots, l.LeftLowHeads, l.LeftHighHeads))
	if v := sum.Yield; v != nil {
		row("Yield, and its 95 % interval", fmt.Sprintf("%d of %d good, %.1f %% (%.1f to %.1f %%)", v.Good, v.Good+v.Bad, v.Percent, v.LowPercent, v.HighPercent))
	}
	for i, w := range sum.Weighed {
		if i == 4 {
			row("and more kinds of heads", strconv.Itoa(len(sum.Weighed)-i))
			break
		}
		name := strings.TrimSpace(s.faces.clip(smallStyle, s.faces.printable(w.Head), 45) + " mean of " + strconv.Itoa(w.Weights))
		row(name+", spread; expected", fmt.Sprintf("%.2f g, %.3f g; %.2f g (%.2f to %.2f g)", w.MeanG, w.SpreadG, w.ExpectedG.Best, w.ExpectedG.Low, w.ExpectedG.High))
	}
	if f := sum.Fill; f != nil {
		row("Fill factor, standard error", fmt.Sprintf("%.4f ± %.4f from %d heads", f.Factor, f.StandardError, f.Weights))
	}
	if c := sum.Cost; c != nil {
		row("Cost of a good head so far", strings.TrimSpace(fmt.Sprintf("%.2f %s", c.HeadMoney, s.faces.printable(c.Currency))))
	}
	return y
}
