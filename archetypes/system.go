package archetypes

// A System is a structural system: an index into the table of systems. The zero
// value is an unknown system.
type System uint8
