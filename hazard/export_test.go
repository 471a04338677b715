package hazard

// SteadyPeak and PulsePeak are what the tests with time histories compare.
var (
	SteadyPeak = steadyPeak
	PulsePeak  = pulsePeak
)
