// Package rules holds the electrical rules that a plant is judged by, one file a
// rule, in the words of the trade.
//
// A rule says why it is there, which clause of which edition carries it, to what
// it applies, and works its verdict out on a sheet. Editions differ as data
// inside the rule. The same values print the catalogue (legwork rules and
// docs/rules).
//
// Sources: NFPA 70, editions 2017, 2020 and 2023, as far as their text or public
// quotations were seen; a rule whose clause is from memory says so in Mark.
package rules
