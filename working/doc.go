// Package working does arithmetic with a record: the calculation that is shown
// is the calculation that was done.
//
// A Term is a value with its symbol, its origin and whether it is known. A
// Sheet names terms, looks cells up in tables and compares; each act leaves a
// Step. An unknown term spreads through every operation and ends in the verdict
// Ask, together with the facts that are missing and where to find them, so that
// rules need no ifs for missing facts.
//
// It leaves out where facts come from (package site) and what the law says
// (package rules).
package working
