package wording

// Cautions are what goes with every job, where the hands are.
func Cautions() []string {
	return []string{
		"A fitted spring stores energy: hold it with the right compressor, and keep hands and face out of its line.",
		"Gas dampers are under pressure: do not open, drill or heat one.",
		"Stands under firm points and wheels chocked before anybody reaches under the car; a jack is no stand.",
		"At a new height check brake hoses, sensor leads, drive shafts and the tyre's room through full bump, droop and lock, spring out.",
		"Tighten rubber bushes with the car at its ride height.",
		"After every change of height have alignment and headlamp aim set again.",
		"These are computed figures. What is allowed on the road is for the local code and a licensed engineer or tester to say.",
	}
}
