// Package sample writes the demo: the fictional harbour town of Calder Sound in the open ocean,
// with a teaching hospital, a museum, a polytechnic campus, a town hall, and streets of houses and
// shops. It has a register with realistic dirt, and a hazard grid made from three fictional faults.
// Every number in it is invented. It demonstrates the program and proves nothing about any place.
//
// The same number of buildings always gives the same bytes.
package sample
