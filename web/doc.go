// Package web is the face in the browser: pages over one job, from the list of
// jobs to its sheets. It decodes, calls the Desk and renders; it holds no rule
// and works nothing out.
//
// A page is a struct and a template, entered by one line in pages. Everything
// a page loads comes from this server: one script, one style sheet and the
// fonts, bundled from ui/ into dist/ by the program in gen/. All pages work
// with script off; script only saves reloads.
//
// It leaves out who may see what (one person on one machine for now) and where
// jobs are kept (package store).
package web

//go:generate go run -C gen .
