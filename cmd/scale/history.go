package main

// history is what the page says of changes, each measured with this command on one
// machine before and after. The figures do not change with a new run.
const history = ``
