//go:build race

package trial

// underRace says that the race detector is at work, which makes a case ten times as long.
const underRace = true
