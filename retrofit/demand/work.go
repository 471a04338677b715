package demand

// Work is the scratch space of one goroutine. The zero value is ready.
type Work struct {
}
