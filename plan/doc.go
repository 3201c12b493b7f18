// Package plan fills the decisions that a person has left open: which units on
// which branch, which breaker, conductor, ground and raceway, and where the
// output lands. Each choice names the rule that governed it.
//
// It keeps whatever a person decided or pinned, chooses the smallest standard
// size that passes every rule, and then lets the voltage-rise target raise a
// conductor. Where a fact is missing it decides nothing and says which.
//
// Branches are ordered paths of units along the trunk, end-fed or center-fed,
// with jumpers or empty drops where one spacing does not reach. The planner
// minimizes a stated cost (data/costs.csv, invented, to be replaced) under the
// listing limit, the amps of the trunk, one model a branch, the free positions of
// the landing and, where conductors alone cannot meet it, the rise target.
//
// Up to 12 units of a model every layout is searched (everyLayout). Beyond, the
// layouts are the cuts of a line over the roof (lines): plane after plane in any
// order, each in one sweep along rows or columns from any corner. Of these the
// cheapest is found exactly for up to 5 planes of a model, step by step for more.
// Each price comes with a bound (atLeast) that holds for every layout whatever.
//
// It leaves out: home runs that share a raceway (each branch pays its own
// conductors only), the price of thicker conductors, heights (the way between
// planes is estimated), and walking on the roof.
package plan
