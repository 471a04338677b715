// Package wire turns the fields of a record into bytes and back. A record lists its fields
// once, in a method that serves both ways:
//
//	func (p *point) Wire(c *wire.Codec) { c.Text(&p.name); c.Float(&p.x); wire.Int(c, &p.n) }
//
// A Codec from Writer appends each listed field to its bytes. One from Reader fills each field
// from the front of its bytes. Equal records give equal bytes on every machine.
package wire
