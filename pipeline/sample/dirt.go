package sample

// soil makes row i as dirty as a real register: it writes the slips that owners' files are known to
// hold, each on fixed rows, so that the demo shows every kind.
func soil(i int, r *row) {
	switch i {
	case 4: // a height typed in metres in a column of feet
		r.height = "5.1"
	case 44, 45, 71, 102, 133, 164, 195, 226:
		r.built = "unknown"
	case 52:
		r.built = "c. 1930"
	case 58:
		r.id = "CS-00058" // the id of the row before it
	case 63, 64:
		r.floors = ""
	case 77:
		r.floors = "several"
	case 83, 84, 85:
		r.area = "TBD"
	case 91:
		r.lon, r.lat = r.lat, r.lon
	case 97:
		r.lon, r.lat = "0", "0"
	case 106, 107, 108, 109, 110:
		r.height = ""
	case 119: // a tall building with the height of a kiosk
		r.floors, r.height = "9", "11.4"
	case 127:
		r.construction = "TBD"
	case 128, 129:
		r.construction = "Mixed"
	case 141:
		r.lon = "-138.512340" // far out at sea
	case 150, 151, 152, 153, 154, 155, 156, 157, 158, 159, 160:
		r.gap = ""
	case 170, 171, 172, 173, 174, 175:
		r.ground = ""
	case 181:
		r.built = "2091"
	case 188:
		r.area = "<Null>"
	case 203:
		r.name = "=HYPERLINK(\"http://example.invalid\")"
	case 211:
		r.id = ""
	case 219:
		r.day = "many"
	}
}
