package output

import (
	"fmt"
	"math"
)

// rows returns n buildings with every kind of value and the awkward ones: nulls
// at the front of columns, a NaN in the middle, negative numbers, hostile text.
// The numbers are invented.
func rows(n int) []Building {
	out := make([]Building, n)
	for i := range out {
		r := &out[i]
		Buildings.Blank(r)
		r.Rank, r.TieGroup, r.RankAsIs = int64(i+1), int64(i/3+1), int64(i+4)
		r.ID = fmt.Sprintf("%06d-A", i*7)
		r.Name = hostile[i%len(hostile)]
		r.Lon, r.Lat = -40+float64(i%1000)*1e-4/3, 48+float64(i%777)*1e-4/7
		r.System = []string{"concrete-frame", "timber-frame", "steel-braced-frame"}[i%3]
		r.Storeys = int64(1 + i%12)
		r.Height = 3.1 * float64(r.Storeys)
		if i >= 10 {
			r.Year = int64(1900 + i%120)
			r.Use = "school"
			r.FloorArea = 1234.56789 * float64(1+i%9)
		}
		r.Drift = math.Sin(float64(i)) * 3
		if i%97 == 5 {
			r.Drift = math.NaN()
		}
		if i%101 == 7 {
			r.Lon, r.Lat = math.NaN(), math.NaN()
		}
		r.FloorAccel = 0.123456789 * float64(i%50)
		r.AnnualLoss = 1e5 * math.Exp(math.Cos(float64(i)))
		r.BestNetBenefit = 1e6 * math.Sin(float64(i)/10)
		r.CollapsePrevention = 1e-9 * float64(i%13)
		r.Best, r.Currency, r.DataGrade = "lead-rubber", "CRD", "B"
		r.Tied = i%5 == 0
	}
	return out
}

// hostile are texts that break careless writers and readers.
var hostile = []string{
	"", "Town hall", "=1+1", "+44", "-12", "@home", "\ttab", "\rreturn", "\nnewline", "'quoted", "'=not lost", "''-twice",
	"a,b", `say "hello"`, "two\nlines", "two\r\nlines", " leading and trailing ", "NULL", "NaN", "0012", "1e5", "true",
	"naïve Ōtautahi 学校", "broken \xff\xfe bytes", "\x00nul", "\u202egnirts", "<b>&amp;</b>", ",", `"`, `""`, "'", "＝1",
}
