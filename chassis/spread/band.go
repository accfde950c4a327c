package spread

import "math"

// Band returns the ends that hold the middle share of the values, NaN left
// out: equal tails, linear between order statistics. ok is false when fewer
// than 20 values are left or share is not between 0 and 1. scratch is used for
// sorting and may be nil or values itself, which is then put in disorder.
func Band(values []float64, share float64, scratch []float64) (low, high float64, ok bool) {
	s := scratch[:0]
	for _, v := range values {
		if !math.IsNaN(v) {
			s = append(s, v)
		}
	}
	if len(s) < 20 || !(share >= 0 && share <= 1) {
		return math.NaN(), math.NaN(), false
	}
	tail := 0.5 * (1 - share) * float64(len(s)-1)
	return quantile(s, tail), quantile(s, float64(len(s)-1)-tail), true
}

// quantile returns the value at a fractional order, by selection.
func quantile(s []float64, at float64) float64 {
	k := int(at)
	a := selectKth(s, k)
	if f := at - float64(k); f > 0 && k+1 < len(s) {
		b := math.Inf(1)
		for _, v := range s[k+1:] {
			b = math.Min(b, v)
		}
		return a + f*(b-a)
	}
	return a
}

// selectKth puts the k-th smallest in its place and returns it (Hoare's find:
// C. A. R. Hoare, Comm. ACM 4 (1961) 321).
func selectKth(s []float64, k int) float64 {
	lo, hi := 0, len(s)-1
	for lo < hi {
		pivot := s[lo+(hi-lo)/2]
		i, j := lo, hi
		for i <= j {
			for s[i] < pivot {
				i++
			}
			for s[j] > pivot {
				j--
			}
			if i <= j {
				s[i], s[j] = s[j], s[i]
				i++
				j--
			}
		}
		switch {
		case k <= j:
			hi = j
		case k >= i:
			lo = i
		default:
			return s[k]
		}
	}
	return s[k]
}

// ShareBelow returns the share of the values below a limit, NaN left out.
func ShareBelow(values []float64, limit float64) float64 {
	n, below := 0, 0
	for _, v := range values {
		if math.IsNaN(v) {
			continue
		}
		n++
		if v < limit {
			below++
		}
	}
	return float64(below) / float64(n)
}
