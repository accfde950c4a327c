// Package web serves the workshop's page and the interface it speaks: routes, sessions,
// events and problems, over jobs, drafts and revisions, tries, long runs, the catalogue
// and people. What a page shows is laid out by the packages of shop/view.
//
// In: requests over HTTP, a store, an access guard, the built page. Out: JSON
// after an OpenAPI 3.1 description that is made from the code, problems after
// RFC 9457, and server-sent events. Every text and figure is ready to show in
// the units asked for; plain numbers are for drawing.
//
// It computes nothing of a car: studies are run and findings judged by the
// physics, worded by wording. It runs nothing that is stored, asks nothing of
// any other machine, and never says that a car is legal or safe.
package web
