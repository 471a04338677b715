// Plinth screens a stock of buildings for seismic retrofit.
package main

import (
	"os"

	"plinth/cmd/commands"
)

// version is set by the linker (make build).
var version = "unknown"

func main() {
	commands.Version = version
	os.Exit(commands.Main(os.Args, os.Stdin, os.Stdout, os.Stderr))
}
