// Package trial opens studies for tests: the demo, a register of one building, studies with
// a mistake in them, and legal plans and buildings drawn at random.
package trial
