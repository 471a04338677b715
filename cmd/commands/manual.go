package commands

// Manual returns the manual page of the program for man, made from the help of its commands.
func Manual() (string, error) {
	a := app(nil, nil, nil)
	for _, c := range a.Commands {
		c.UsageText = "plinth " + c.Name + " [options] " + c.ArgsUsage + "\n\n" + c.Description
	}
	a.UsageText = "plinth COMMAND [options] ARGUMENT..."
	return a.ToManWithSection(1)
}
