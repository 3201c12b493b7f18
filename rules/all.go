package rules

// All lists the rules in the order of the line, from the roof to the street.
func All() []*Rule {
	return []*Rule{
		&BranchUnits,
		&BranchModel,
		&BranchCurrent,
		&BranchBreaker,
		&InsulationWet,
		&ConductorCarries,
		&Terminals,
		&BreakerProtects,
		&EquipmentGround,
		&RacewayFill,
		&CombinerSpaces,
		&BusbarSum,
		&OutputBreaker,
		&Busbar100,
		&Busbar120,
		&BusbarCenter,
		&BusbarEnd,
		&VoltageRise,
	}
}
