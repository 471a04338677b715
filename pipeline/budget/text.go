package budget

import (
	"fmt"
	"io"

	"plinth/pipeline/output"
	"plinth/pipeline/page"
	"plinth/pipeline/ranking"
)

// waitingShown is the number of buildings next in line that the text names.
const waitingShown = 5

// Write writes the programme as text of 80 columns.
func (s *Spending) Write(to io.Writer) error {
	w := page.New(to)
	var money float64
	for _, m := range s.Money {
		money += m
	}
	currency := page.Cut(s.About.Currency, page.WidestCurrency)
	w.Line("%d of %d buildings for %s of %s %s, %d year(s).", len(s.Works), s.Counts.Out,
		output.Short(s.Schedule.Spent), output.Short(money), currency, len(s.Money))
	w.Line("")
	s.table(w)
	w.Line("")
	proved := "not proved the best: a better one gains at most that much more"
	if s.Schedule.Exact {
		proved = "no programme under these terms gains more"
	}
	unit := s.Unit
	if unit == "currency" && currency != "" {
		unit = currency
	}
	w.Line("Gain: %s %s. Bound: %s. Gap: %.2g %%;", output.Short(s.Schedule.Gain), unit,
		output.Short(s.Schedule.Bound), 100*s.Schedule.Gap)
	w.Line("%s.", proved)
	s.achieved(w, money, currency)
	if s.Next > 0 {
		w.Line("The next 1,000 %s would gain %s %s.", currency, output.Short(1000*s.Next), unit)
	}
	if len(s.Waiting) > 0 {
		w.Line("")
		w.Line("Next in line:")
		for _, q := range s.Waiting[:min(waitingShown, len(s.Waiting))] {
			w.Wrap("  ", fmt.Sprintf("%s, %s: %s %s gain %s %s", page.Cut(q.ID, page.WidestID), q.Measure,
				output.Short(q.CostLikely), currency, output.Short(q.Gain), unit))
		}
	}
	w.Line("")
	w.Wrap("", "Costs and gains are medians of a screening; nothing here is a design, a price or an "+
		"approval.")
	w.Wrap("", output.Caution)
	return w.Flush()
}

func (s *Spending) table(w *page.Writer) {
	w.Table("year\tbuilding\tmeasure\tcost\tlow to high\tgain\t", len(s.Works), func(to io.Writer, i int) {
		q := &s.Works[i]
		must := ""
		if q.Must {
			must = "must"
		}
		fmt.Fprintf(to, "%d\t%s\t%s\t%s\t%s to %s\t%s\t%s\n", q.Year, page.Cut(q.ID, page.WidestID),
			q.Measure, output.Short(q.CostLikely),
			output.Short(q.CostLow), output.Short(q.CostHigh), output.Short(q.Gain), must)
	}, nil)
}

// achieved writes what the programme does for money, lives and days, and what the same money would
// do for lives alone.
func (s *Spending) achieved(w *page.Writer, money float64, currency string) {
	var net, deaths, days float64
	for i := range s.Works {
		q := &s.Works[i]
		net, deaths, days = net+q.NetBenefit, deaths+q.DeathsAvoided, days+q.DaysSaved
	}
	w.Line("")
	worth := "avoids losses worth " + output.Short(net) + " " + currency + " more than it costs"
	if net < 0 {
		worth = "costs " + output.Short(-net) + " " + currency + " more than the losses it avoids"
	}
	text := fmt.Sprintf("Over %s years it %s, and is expected to avoid %s and %s closed.", output.Short(s.Life), worth,
		count(deaths, "death"), count(days, "day"))
	if most := s.mostLives(money); most > deaths {
		text += fmt.Sprintf(" Spent for life safety alone the same money would avoid %s.", count(most, "death"))
	}
	w.Wrap("", text)
}

// mostLives returns the deaths that a programme for life safety alone avoids with the money, without
// terms.
func (s *Spending) mostLives(money float64) (most float64) {
	for i := range s.Fronts {
		if s.Fronts[i].Objective != ranking.LifeSafety {
			continue
		}
		for _, q := range s.Fronts[i].Points {
			if q.Spent <= money {
				most = max(most, q.Gain)
			}
		}
	}
	return most
}

// count returns a number of things to two digits.
func count(n float64, thing string) string {
	text := output.Short(n)
	if text != "1" {
		thing += "s"
	}
	return text + " " + thing
}
