// Package web serves the workshop's page and the interface it speaks: jobs,
// drafts and revisions, tries, long runs, the catalogue, people and sessions.
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
