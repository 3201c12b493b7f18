// Package sun says where the sun stands and what it gives: position, rise,
// transit and set; clear sky; the split of measured light into beam and
// diffuse; light on a tilted plane, through its glass and behind a horizon; the
// temperature of the cells behind it; and the average day of a month for places
// without a weather file.
//
// Position follows the solar position algorithm of NREL with all its terms
// (Reda and Andreas, NREL/TP-560-34302, revised January 2008). Each model names
// its source and its limits beside its formula.
//
// Instants are passed in; nothing here asks the clock. Angles are degrees,
// azimuth from true north clockwise, longitude positive east; irradiance is
// W/m². It leaves out the machine that turns light into power: that is expect.
package sun
