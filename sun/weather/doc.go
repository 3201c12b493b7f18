// Package weather reads weather files of the two open forms: EPW and TMY3 CSV.
//
// Both give means over intervals that their stamps end, in local standard time
// without daylight saving, hours 1 to 24. A typical year is put together from
// months of different years; its stamps are set into NominalYear here. Times
// come out as half-open intervals in UTC. What a file marks as missing is
// unknown, never zero.
//
// Source: Wilcox and Marion, Users Manual for TMY3 Data Sets, NREL/TP-581-43156;
// EnergyPlus documentation, Auxiliary Programs, weather file format.
package weather
