// Package view holds what every page of the workshop stands on: a job as it is
// tried, and how a figure, a speed, a chart or a change of it is shown.
//
// In: requests of a page, which it puts to the desk. Out: trials, and the small
// pieces that pages are laid out of, ready to show in the units asked for; plain
// numbers are for drawing, in the unit named beside them. What one page shows
// stands in the package of that page, view/builds for one.
//
// It computes nothing of a car and knows nothing of HTTP.
package view
