package seen

// A Likeness holds what two rows of one building have in common beside their place.
type Likeness struct {
	Area          float32
	Year, Storeys int16
	Line          int32
}

// Point returns a place to 1e-7 degrees (1 cm) as one number. It is never 0: no place on
// earth has so many degrees.
func Point(lon, lat float64) uint64 {
	const none = 1<<63 | 1<<31
	return none ^ (uint64(uint32(int32(lon*1e7)))<<32 | uint64(uint32(int32(lat*1e7))))
}
