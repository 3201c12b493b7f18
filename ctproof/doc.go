// Package ctproof answers: do the CTs tell the truth, and if not, what has the
// hand to do?
//
// Readings taken in named states of the site (PV off, a known load on one leg, one
// more branch on) are evidence. Every explanation, the right wiring and each single
// and double mistake of package meter, predicts them through its response K. The
// probability of each is Bayes' rule over
//
//   - a house load that drifts, and sometimes jumps, between states,
//   - a test load known to its tolerance,
//   - PV known to the tolerance of the expectation, or measured by the production
//     channels, the inverters' own sum or a clamp,
//   - a meter with the errors of its class, and
//   - the difference of the leg voltages, which a load on one leg moves whatever
//     the CTs do.
//
// Grid and production channels are judged together: the power of PV that the
// production channels see is the known load of the grid channels.
//
// Explanations with one response K read alike in every state. They are one class
// and stay together; which of them it is only eyes can tell, except where the
// voltages do. What is proved is sign, leg, side and that each branch counts once,
// and the ratio to about 10 %. Accuracy is not proved.
//
// The package is pure: no clock, files or network.
//
// Sources: the metering reference, sections 1 to 5 (response, sizes of things,
// classes of CTs); constants carry their own.
package ctproof
