// Package fixes searches what would cure the stops of a plan: edits that an
// electrician would try, singly and combined up to three, each judged by all
// rules again. What passes is ranked by work; what looks right and is not is
// told with the rule that refuses it.
//
// The search is bounded and always takes the same way. Figures of work are
// invented (data/work.csv) and only rank.
package fixes
