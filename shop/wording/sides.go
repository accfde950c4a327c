package wording

// Sides words what stands on both sides of an axle: once where left and right are
// alike, else each with its side. none stands for a side that has nothing.
func Sides(left, right, none string) string {
	if left == right {
		return left
	}
	if left == "" {
		left = none
	}
	if right == "" {
		right = none
	}
	return "left " + left + ", right " + right
}
