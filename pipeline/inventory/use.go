package inventory

// A Use is what a building is used for.
type Use uint8

// NumFields is the number of fields.
const NumFields = 30
