// Package place answers from coordinates what a survey would else have to fetch:
// the time zone, the nearest weather stations, design temperatures and the light
// and weather of each month. All of it is an estimate from somewhere near, so
// every answer says from where, how far off and how much higher.
//
// Zone borders are an extract of OpenStreetMap (data/ZONES-LICENSE.txt); stations
// are the typical years that NREL published (NREL/TP-581-43156). It covers the
// United States and what of their territories those sources hold.
package place
