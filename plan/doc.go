// Package plan fills the decisions that a person has left open: which units on
// which branch, which breaker, conductor, ground and raceway, and where the
// output lands. Each choice names the rule that governed it.
//
// It keeps whatever a person decided or pinned, chooses the smallest standard
// size that passes every rule, and then lets the voltage-rise target raise a
// conductor. Where a fact is missing it decides nothing and says which.
//
// It splits units over branches in the order of planes, rows and columns; it
// does not search for the cheapest layout on the roof.
package plan
