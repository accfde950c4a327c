package search

import (
	"math"

	"trunnion/chassis/car"
)

// Shop is what can be bought, with prices; the zero value is no shop.
type Shop struct {
	car.Stock
	// Price is that of one part as it was typed, in money; NaN where nobody said. [-]
	Price func(typed string) float64
}

// pair is the price of two of a part; NaN where nobody said.
func (s *Shop) pair(p *car.Sold) float64 {
	if s.Price == nil {
		return math.NaN()
	}
	return 2 * s.Price(p.Price)
}
