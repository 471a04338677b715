//go:build !race

package trial

const underRace = false
