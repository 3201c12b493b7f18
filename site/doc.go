// Package site is the plant resolved from facts and decisions: panels, buses,
// feeders, runs, branches and sources, joined into the graph that leads from
// every unit to the utility.
//
// It answers what stands where, what flows through it and what is known about
// it. It alone turns facts of the document into facts of a calculation, with
// their origin and, where they are missing, where to find them. Rules walk its
// buses, runs and branches and never know how many panels there are.
//
// It leaves out what the law says (package rules) and what ought to be built
// (package plan).
package site
