package plan

// releaseYear is the year of this version of the program. It bounds the age of a building if the
// plan has no date. No clock is read, so that the same inputs give the same results in any year.
const releaseYear = 2026

// Years outside this range are not taken for the date of a price or a programme (judgement). The
// register does not accept them either.
const oldestDate, latestDate = 1900, 2100

// LatestYear returns the latest year in which a building of the register can have been built or
// strengthened. It is the latest of the year in measures.price_date, budget.first_year and the year
// of the program's release.
func (p *Plan) LatestYear() int {
	latest := releaseYear
	for _, y := range [...]int{yearIn(p.Measures.PriceDate), p.Budget.FirstYear} {
		if y >= oldestDate && y <= latestDate {
			latest = max(latest, y)
		}
	}
	return latest
}

// yearIn returns the last number of four digits in a date, or 0 if there is none.
func yearIn(date string) int {
	year, n, digits := 0, 0, 0
	for i := 0; i <= len(date); i++ {
		if i < len(date) && date[i] >= '0' && date[i] <= '9' {
			n, digits = 10*n+int(date[i]-'0'), digits+1
			continue
		}
		if digits == 4 {
			year = n
		}
		n, digits = 0, 0
	}
	return year
}
